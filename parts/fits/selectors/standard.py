"""Standard parts: what a designation means, and which of our parts have it."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal

from django.utils.translation import gettext as _

from parts.fits.domain import belts, screws
from parts.fits.domain.bearings import Bearing
from parts.fits.domain.belts import Belt, Named
from parts.fits.domain.cords import Cord
from parts.fits.domain.designations import Standard, read_standard
from parts.fits.domain.reading import DesignationError
from parts.fits.domain.screws import Screw, WrongKey
from parts.fits.models import Part
from units.show.words import number

Facts = list[tuple[str, str]]


@dataclass(frozen=True)
class Known:
    """A standard part, what its designation means as pairs of word and value, what to mind, and
    our own parts that it, or what stands in for it, is."""

    standard: Standard
    facts: Facts
    cautions: list[str]
    parts: list[Part] = field(default_factory=list)


def known_of(standards: Iterable[Standard]) -> list[Known]:
    """Each of these with our own parts alike. One query."""
    standards = list(standards)
    wanted = {spelling for one in standards for spelling in one.stand_ins}
    alike = list(Part.objects.filter(designation__in=wanted).select_related("maker"))
    return [
        Known(
            one,
            facts_of(one),
            cautions_of(one),
            [part for part in alike if part.designation in one.stand_ins],
        )
        for one in standards
    ]


def standard_of(part: Part) -> Known | None:
    """What a part's designation means, and the other parts alike. One query at the most."""
    if not part.designation:
        return None
    try:
        standard = read_standard(part.designation)
    except DesignationError:  # the table of sizes lost it since
        return None
    known = known_of([standard])[0]
    known.parts[:] = [one for one in known.parts if one.pk != part.pk]
    return known


def facts_of(standard: Standard) -> Facts:
    writers = {Belt: _of_belt, Bearing: _of_bearing, Screw: _of_screw, Cord: _of_cord}
    return writers[type(standard)](standard)


def cautions_of(standard: Standard) -> list[str]:
    """What goes wrong with the wrong hex key; nothing for the other sorts."""
    if not isinstance(standard, Screw):
        return []
    return [_caution(wrong) for wrong in screws.wrong_keys(standard.key)]


def _of_belt(belt: Belt) -> Facts:
    section = belts.SECTIONS[belt.section]
    return [
        (_("Section"), f"{section.name} ({section.inch})"),
        (_("Ribs"), str(belt.ribs)),
        (_("Effective length"), _mm(belt.length_mm)),
        (_("Width"), _mm(belt.width_mm)),
        (_("Metric"), _named(belts.to_metric(belt))),
        (_("Inch"), _named(belts.to_inch(belt))),
        (_("Rib pitch"), f"{_mm(section.pitch_mm)} ± {_mm(section.pitch_tolerance_mm)}"),
        (_("Thickness"), _("%(least)s to %(most)s") % _ends(section.thickness_mm)),
        (_("Smallest pulley"), _mm(section.least_pulley_mm)),
    ]


def _of_bearing(bearing: Bearing) -> Facts:
    seals = {
        "": _("open"),
        "Z": _("a shield on one side"),
        "2Z": _("shields on both sides"),
        "RS": _("a rubber seal on one side"),
        "2RS": _("rubber seals on both sides"),
    }
    clearances = {
        "C2": _("less than normal (C2)"),
        "CN": _("normal"),
        "C3": _("more than normal (C3)"),
        "C4": _("more than C3 (C4)"),
    }
    return [
        (_("Bore"), _mm(bearing.bore_mm)),
        (_("Outside diameter"), _mm(bearing.outside_mm)),
        (_("Width"), _mm(bearing.width_mm)),
        (_("Seals"), seals[bearing.seals]),
        (_("Clearance inside"), clearances[bearing.clearance]),
    ]


def _of_screw(screw: Screw) -> Facts:
    standards = ", ".join(screws.HEADS[screw.head]) if "M" in screw.thread else "ASME B18.3"
    return [
        (_("Thread"), screw.thread),
        (_("Head"), f"{head_name(screw.head)}, {standards}"),
        (_("Hex key"), _key(screw.key)),
    ]


def _of_cord(cord: Cord) -> Facts:
    return [
        (_("Plug"), cord.plug),
        (_("Coupler"), cord.coupler),
        (_("Conductors"), f"{cord.gauge} AWG"),
    ]


def head_name(head: str) -> str:
    names = {
        "cap": _("cap head"),
        "button": _("button head"),
        "countersunk": _("countersunk head"),
        "set": _("set screw, no head"),
    }
    return names[head]


def _caution(wrong: WrongKey) -> str:
    said = {
        screws.NEAR: _("A %(key)s key turns it nearly as well: %(slack)s of room."),
        screws.LOOSE: _("A %(key)s key seems to fit and rounds the socket: %(slack)s of room."),
        screws.TIGHT: _("A %(key)s key is %(slack)s too large and may jam in the socket."),
        screws.TOO_LARGE: _("A %(key)s key will not enter: it is %(slack)s too large."),
    }
    return said[wrong.happens] % {"key": _key(wrong.key), "slack": _mm(abs(wrong.slack_mm))}


def _key(key: screws.Key) -> str:
    if key.inch:
        return _("%(size)s in") % {"size": key.written}
    return _mm(key.across_mm)


def _named(named: Named) -> str:
    if named.near:
        return named.designation
    said = (
        _("nearest %(designation)s, %(off)s longer")
        if named.off_mm > 0
        else _("nearest %(designation)s, %(off)s shorter")
    )
    return said % {"designation": named.designation, "off": _mm(abs(named.off_mm))}


def _ends(pair) -> dict[str, str]:
    return {"least": _mm(pair[0]), "most": _mm(pair[1])}


def _mm(value) -> str:
    return _("%(value)s mm") % {"value": number(Decimal(value))}
