"""What a tool says: figures, sentences with named places; how a result is rounded to be kept."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from math import floor, log10

from uncertainties import nominal_value, std_dev

from units.inspections.domain.measures.outside import KEPT

PLACES = 6  # decimals that a kept reading may have


@dataclass(frozen=True)
class Figure:
    """A result: ``number`` in SI with its uncertainty, and the sort of its measure."""

    label: str
    number: object
    sort: str = "plain"


@dataclass(frozen=True)
class Saying:
    """A whole sentence with named places (a Figure, a Chance or text); ``state`` is good, part,
    watch or nothing."""

    sentence: str
    places: Mapping[str, object] = field(default_factory=dict)
    state: str = ""


@dataclass(frozen=True)
class Chance:
    """A probability in a sentence."""

    share: float


@dataclass(frozen=True)
class Outcome:
    """The main figure is what is kept; the others are shown beside it. Speed (m/s) and walker (kg)
    tell what to measure alike again."""

    main: Figure
    others: tuple[Figure, ...] = ()
    sayings: tuple[Saying, ...] = ()
    speed: float | None = None
    walker: float | None = None


@dataclass(frozen=True)
class Tool:
    """A measuring tool. ``name`` is what its main figure is kept as (a protocol's step of that key
    asks for the same) and ``called`` how a course of them is headed. ``assumes`` are keys of the
    table of assumptions, ``tables`` its other tables (populations, priors); ``kinds`` the kinds of
    machine that it is for, none meaning all; ``steps`` the keys of a protocol's steps at which it
    is offered."""

    slug: str
    name: str
    called: str
    title: str
    about: str
    work: Callable[[Mapping], Outcome]
    cautions: tuple[str, ...] = ("maker-first",)
    assumes: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    tables: tuple[str, ...] = ()


def rounded(value: float, uncertainty: float) -> tuple[Decimal, Decimal]:
    """A result as it is kept and shown: the uncertainty to two figures and the value to the same
    decimal (GUM 7.2.6), at most six decimals; without an uncertainty the value to six figures."""
    leading = uncertainty if uncertainty > 0 else abs(value) / 1e4
    if leading == 0:
        return Decimal(0), Decimal(0)
    places = max(min(1 - floor(log10(leading)), PLACES), 0)
    step = Decimal(1).scaleb(-places)
    return Decimal(repr(value)).quantize(step), Decimal(repr(uncertainty)).quantize(step)


def kept(figure: Figure) -> tuple[Decimal, Decimal, str]:
    """Value, standard uncertainty and measure as a reading is kept."""
    measure = KEPT[figure.sort]
    number = measure.outside(figure.number)
    return *rounded(nominal_value(number), std_dev(number)), measure.symbol
