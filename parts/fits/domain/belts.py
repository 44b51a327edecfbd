"""V-ribbed belts: both trade designations, their sizes, and what stands in for what."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import cached_property
from typing import ClassVar

from parts.fits.domain.reading import Reading
from parts.fits.domain.tables import table
from units.inspections.domain.measures.ribbed import tension

FORMS = "8PJ1244, 1168 PJ-6, 490J8"
TENTH_OF_AN_INCH = Decimal("2.54")
BETWEEN = r"[ \-]*"
SHORTEST = 100  # millimetres, or tenths of an inch: a length has three figures, ribs at most two
TOLERANCE_MM = Decimal(table("belts")["tolerance_mm"])


@dataclass(frozen=True)
class Section:
    """The profile of a belt: millimetres, kilograms for a metre of one rib's width."""

    name: str
    inch: str
    pitch_mm: Decimal
    pitch_tolerance_mm: Decimal
    groove_degrees: int
    thickness_mm: tuple[Decimal, Decimal]
    least_pulley_mm: int
    rib_mass_kg_per_m: Decimal
    mass_doubt: Decimal


def _section(name: str, row: dict) -> Section:
    return Section(name, **row | {"thickness_mm": tuple(row["thickness_mm"])})


SECTIONS = {name: _section(name, row) for name, row in table("belts")["sections"].items()}
BY_INCH_LETTER = {section.inch: section for section in SECTIONS.values()}


@dataclass(frozen=True)
class Belt:
    """A belt by section (``PJ``), ribs and effective length in millimetres."""

    sort: ClassVar[str] = "belt"

    section: str
    ribs: int
    length_mm: Decimal

    @property
    def designation(self) -> str:
        """One spelling for one belt: metric where its length is whole millimetres, else inch."""
        if self.length_mm == self.length_mm.to_integral_value():
            return metric(self.section, self.ribs, self.length_mm)
        return inch(self.section, self.ribs, self.length_mm / TENTH_OF_AN_INCH)

    @cached_property
    def stand_ins(self) -> tuple[str, ...]:
        """The spellings of every belt that can stand in for this one, its own first."""
        least, most = self.length_mm - TOLERANCE_MM, self.length_mm + TOLERANCE_MM
        lengths = [Decimal(mm) for mm in _whole_between(least, most)]
        codes = _whole_between(least / TENTH_OF_AN_INCH, most / TENTH_OF_AN_INCH)
        lengths += [code * TENTH_OF_AN_INCH for code in codes]
        belts = [Belt(self.section, self.ribs, length) for length in lengths]
        return tuple(dict.fromkeys(belt.designation for belt in [self, *belts]))

    @property
    def width_mm(self) -> Decimal:
        return self.ribs * SECTIONS[self.section].pitch_mm

    @property
    def mass_kg_per_m(self) -> Decimal:
        return self.ribs * SECTIONS[self.section].rib_mass_kg_per_m


@dataclass(frozen=True)
class Named:
    """A designation for a belt, and by how many millimetres what it names is longer."""

    designation: str
    off_mm: Decimal

    @property
    def near(self) -> bool:
        """False: only the nearest there is, not the same belt."""
        return abs(self.off_mm) <= TOLERANCE_MM


@dataclass(frozen=True)
class Tension:
    """Whole newtons, and between which they lie when catalogues disagree on the belt's mass."""

    newtons: Decimal
    least: Decimal
    most: Decimal


def read_belt(text: str) -> Belt:
    """A belt by its metric or its inch designation. DesignationError says what is wrong."""
    reading = Reading(text, FORMS)
    first = reading.need("[1-9][0-9]{0,4}")
    reading.take(BETWEEN)
    is_metric = bool(reading.take("P"))
    section = BY_INCH_LETTER[reading.need(f"[{''.join(BY_INCH_LETTER)}]")]
    reading.take(BETWEEN)
    second_at = reading.at
    second = reading.need("[1-9][0-9]{0,4}")
    reading.end()
    if is_metric and len(first) <= 2 < len(second):
        return Belt(section.name, int(first), Decimal(second))
    if len(second) > 2:
        reading.fail(second_at + 2)  # no belt has a hundred ribs
    if len(first) <= 2:  # too short for a length, which may still follow
        reading.fail(reading.at if is_metric else len(first))
    step = 1 if is_metric else TENTH_OF_AN_INCH
    return Belt(section.name, int(second), int(first) * Decimal(step))


def metric(section: str, ribs: int, length_mm: Decimal) -> str:
    return f"{ribs}{section}{length_mm.normalize():f}"


def inch(section: str, ribs: int, tenths: Decimal) -> str:
    return f"{tenths.normalize():f}{SECTIONS[section].inch}{ribs}"


def to_metric(belt: Belt) -> Named:
    """The stocked metric belt that is nearest; its own whole millimetres when no list is known."""
    stocked = table("belts")["stock_mm"].get(belt.section)
    if stocked:
        length = Decimal(min(stocked, key=lambda mm: abs(mm - belt.length_mm)))
    else:
        length = belt.length_mm.quantize(Decimal(1), ROUND_HALF_UP)
    return Named(metric(belt.section, belt.ribs, length), length - belt.length_mm)


def to_inch(belt: Belt) -> Named:
    """Its own inch code where its length is one; else the nearest code of the usual steps."""
    tenths = belt.length_mm / TENTH_OF_AN_INCH
    if tenths != tenths.to_integral_value():
        step = table("belts")["inch_step"] * 10
        tenths = (tenths / step).quantize(Decimal(1), ROUND_HALF_UP) * step
    off = tenths * TENTH_OF_AN_INCH - belt.length_mm
    return Named(inch(belt.section, belt.ribs, tenths), off)


def substitutes(one: Belt, other: Belt, tolerance_mm: Decimal = TOLERANCE_MM) -> bool:
    """Whether one stands in for the other: same section, same ribs, length within tolerance."""
    alike = (one.section, one.ribs) == (other.section, other.ribs)
    return alike and abs(one.length_mm - other.length_mm) <= tolerance_mm


def ribs_of_width(section: str, width_mm: Decimal) -> int:
    """How many ribs a belt of this width has; 0 for one narrower than half a rib."""
    return int((width_mm / SECTIONS[section].pitch_mm).quantize(Decimal(1), ROUND_HALF_UP))


def frequency(mass_kg_per_m: Decimal, span_m: Decimal, newtons: Decimal) -> Decimal:
    """Hertz at which a free span sounds under this tension."""
    return (newtons / (4 * mass_kg_per_m * span_m**2)).sqrt()


def tension_of(belt: Belt, span_m: Decimal, hertz: Decimal) -> Tension:
    """The tension of a belt's free span, with the doubt that its section's mass leaves; each
    rounded to a whole newton."""
    newtons = tension(belt.mass_kg_per_m, span_m, hertz)
    doubt = SECTIONS[belt.section].mass_doubt
    bounds = (newtons, newtons * (1 - doubt), newtons * (1 + doubt))
    return Tension(*(one.quantize(Decimal(1), ROUND_HALF_UP) for one in bounds))


def _whole_between(least: Decimal, most: Decimal) -> range:
    first = int(least.to_integral_value(ROUND_CEILING))
    return range(max(first, SHORTEST), int(most.to_integral_value(ROUND_FLOOR)) + 1)
