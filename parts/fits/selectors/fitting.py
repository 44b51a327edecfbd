"""Which parts fit a component, in every way that is known."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from parts.fits.domain.designations import stand_ins
from parts.fits.domain.supersession import later_of_each
from parts.fits.models import Fit, Part, Sister, Supersession
from units.catalogue.models import MachineModel

FITS, SUPERSEDED, SISTER, STANDARD = "fits", "superseded", "sister", "standard"
WAYS = [FITS, SUPERSEDED, SISTER, STANDARD]


@dataclass(frozen=True)
class Fitting:
    """A part that fits, how many a machine needs and where, and how we know.

    ``via`` tells the way: it fits itself, an earlier number of it does (``superseded``), it fits a
    sister model, or it is a standard part that stands in for one that fits. A part that serves in
    several positions, as the later number of a left and of a right one, stands without any.
    """

    part: Part
    quantity: Decimal
    position: str
    via: str
    evidence: str


Placed = dict[str, list[Fitting]]  # by component
Sisters = dict[int, list[tuple[int, Sister]]]  # by current model: a sister's current model, link


def fittings(
    models: Iterable[MachineModel],
    components: Iterable[str] | None = None,
    *,
    on: date | None = None,
    known_at: datetime | None = None,
    sisters: Sisters | None = None,
) -> dict[int, Placed]:
    """``{model id: {component slug: fittings}}``; a component that nothing fits is left out.

    Each part comes once under a component, by the shortest way: its own fits, later numbers, fits
    of sisters, standard parts. A number that became another still fits and stands there as well.
    ``on`` leaves out numbers replaced later; ``known_at``, fits and links written down later. Four
    queries at the most, however many models, and one less if the :func:`sister_links` are handed
    in; parts come without their maker and component, which whoever shows many would pay for in
    rows.
    """
    models = list(models)
    currents = {model.pk: model.merged_into_id or model.pk for model in models}
    sisters = sister_links(models, known_at) if sisters is None else sisters
    asked = set(currents.values()) | {pk for found in sisters.values() for pk, _ in found}
    fits = _fits(asked, components, known_at)
    chains = _chains({one.part_id for found in fits.values() for one in found}, on, known_at)
    found = {
        current: _gathered(current, fits, sisters.get(current, []), chains)
        for current in set(currents.values())
    }
    _add_standard(found)
    return {pk: found[current] for pk, current in currents.items()}


def _family(currents: Iterable[int]):
    """The ids of these models and of all names merged into them, as a query."""
    ids = sorted(currents)
    models = MachineModel.objects
    return (models.filter(pk__in=ids) | models.filter(merged_into__in=ids)).values("pk")


def sister_links(models: Iterable[MachineModel], known_at: datetime | None = None) -> Sisters:
    """``{current model: [(sister's current model, link)]}``, as it stood at ``known_at``. One
    query."""
    found = defaultdict(list)
    currents = {model.merged_into_id or model.pk for model in models}
    links = Sister.objects.standing(known_at).of_families(_family(currents))
    for link in links.order_by("pk"):
        found[link.near_id].append((link.far_id, link))
        found[link.far_id].append((link.near_id, link))
    return found


def _fits(currents: set[int], components, known_at) -> dict[int, list[Fit]]:
    """``{current model: fits}`` with those of merged names, its own first. One query."""
    fits = Fit.objects.standing(known_at).filter(model__in=_family(currents)).with_current()
    if components is not None:
        fits = fits.filter(part__component__in=list(components))
    found = defaultdict(list)
    for fit in fits.select_related("part").order_by("part__number", "pk"):
        found[fit.current_id].append(fit)
    for current, ones in found.items():
        ones.sort(key=lambda fit: fit.model_id != current)
    return found


def _chains(parts: set[int], on, known_at) -> dict[int, list[Supersession]]:
    """``{part: the links to its later numbers}``, nearest first. One query."""
    links = Supersession.objects.as_of(on, known_at).from_parts(parts)
    links = list(links.select_related("replaced_by"))
    if not links:
        return {}
    pairs = [(link.part_id, link.replaced_by_id) for link in links]
    to = {}
    for link in links:
        to.setdefault(link.replaced_by_id, link)
    replaced = parts & {part for part, _ in pairs}
    return {part: [to[pk] for pk in ids] for part, ids in later_of_each(pairs, replaced).items()}


def _gathered(current: int, fits: Mapping, sisters: Sequence, chains: Mapping) -> Placed:
    found = defaultdict(dict)
    own = [_own(fit) for fit in fits.get(current, ())]
    theirs = [
        _of_sister(fit, link)
        for sister, link in sisters
        for fit in fits.get(sister, ())
        if link.component_id in (None, fit.part.component_id)
    ]
    for one in [*own, *_later(own, chains), *theirs, *_later(theirs, chains)]:
        # A later number serves where the earlier one does, whatever its own component says.
        component, fitting = one
        _put(found[component], fitting)
    return {component: list(by_part.values()) for component, by_part in found.items()}


def _put(found: dict[int, Fitting], fitting: Fitting) -> None:
    """Keep the shortest way to a part; a further one only tells where else it goes."""
    first = found.setdefault(fitting.part.pk, fitting)
    if first.position != fitting.position:
        found[fitting.part.pk] = replace(first, position="")


def _own(fit: Fit) -> tuple[str, Fitting]:
    return fit.part.component_id, Fitting(fit.part, fit.quantity, fit.position, FITS, fit.evidence)


def _of_sister(fit: Fit, link: Sister) -> tuple[str, Fitting]:
    component, fitting = _own(fit)
    return component, replace(fitting, via=SISTER, evidence=f"{link.evidence}; {fit.evidence}")


def _later(found: Iterable[tuple[str, Fitting]], chains: Mapping) -> Iterator[tuple[str, Fitting]]:
    for component, fitting in found:
        for link in chains.get(fitting.part.pk, ()):
            yield (
                component,
                replace(
                    fitting,
                    part=link.replaced_by,
                    via=SUPERSEDED if fitting.via == FITS else fitting.via,
                    evidence=f"{fitting.evidence}; {link.evidence}",
                ),
            )


def _add_standard(found: Mapping[int, Placed]) -> None:
    """Put what stands in for the standard parts among those found beside them. One query."""
    known = [one for placed in found.values() for ones in placed.values() for one in ones]
    standard = {one.part.designation for one in known} - {""}
    spelled = {designation: stand_ins(designation) for designation in standard}
    wanted = {spelling for spellings in spelled.values() for spelling in spellings}
    if not wanted:
        return
    parts = defaultdict(list)
    for part in Part.objects.filter(designation__in=wanted).order_by("number", "pk"):
        parts[part.designation].append(part)
    for placed in found.values():
        for ones in placed.values():
            ones += _standing_in(ones, spelled, parts)


def _standing_in(ones: Sequence[Fitting], spelled: Mapping, parts: Mapping) -> list[Fitting]:
    there = {one.part.pk for one in ones}
    found = {}
    for one in ones:
        for spelling in spelled.get(one.part.designation, ()):
            for part in parts.get(spelling, ()):
                if part.pk not in there:
                    evidence = part.designation
                    _put(found, replace(one, part=part, via=STANDARD, evidence=evidence))
    return list(found.values())
