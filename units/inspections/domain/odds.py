"""The chance that a component needs replacing: stated priors, partly pooled with what was found.

Source of the method: beta-binomial, textbook; the strengths are shop defaults. A machine's own
cell borrows from wider and wider rings around it: the same model, the same grade, the same kind.
Every ring is counted once, so that nothing speaks twice.
"""

import tomllib
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from units.inspections.domain.tables import gettext_noop, require

TABLE = Path(__file__).parents[3] / "fixtures/reference/replacement.toml"
REPAIR, PRIVATE, CLUB = "repair", "private", "club"
POPULATIONS = (PRIVATE, REPAIR, CLUB)
# From the widest ring inwards.
LEVELS = ("grade", "model", "hours", "state")
HOURS_NOT_KNOWN = "not-known"
Sums = dict[tuple[tuple, str], tuple[int, int]]
NOTHING = (0, 0)
# Chances in words: up to each bound, and beyond the last. Common practice, no published source.
FREQUENCIES = ((0.05, "seldom"), (0.20, "sometimes"), (0.50, "often"), (0.80, "mostly"))
NEARLY_ALWAYS = "nearly-always"


@dataclass(frozen=True)
class Cell:
    """Which machines are spoken of. An empty level was not asked: it narrows nothing.

    ``hours`` is a band of ``Stated.band``; ``model`` the id of a model.
    """

    kind: str
    component: str
    population: str = REPAIR
    grade: str = ""
    model: int | None = None
    hours: str = ""
    state: str = ""


@dataclass(frozen=True)
class Tally:
    """How many machines of a cell were looked at, and how many of these needed replacing."""

    cell: Cell
    looked: int
    worn: int


@dataclass(frozen=True)
class Prior:
    """A chance, 0 to 1, and the number of looks that it is worth."""

    chance: float
    counts_as: float


@dataclass(frozen=True)
class Stated:
    """What is believed before anything was looked at: the table ``replacement.toml``.

    ``strengths`` say, by level, how many looks the wider ring counts as at most; ``elsewhere``
    how much of a look at another population counts, 0 to 1; ``bands`` the hours at which a new
    band begins.
    """

    priors: Mapping[tuple[str, str], Mapping[str, Prior]]
    strengths: Mapping[str, float]
    elsewhere: float
    bands: Sequence[int]

    def prior(self, cell: Cell) -> Prior:
        """Raises KeyError for a component that the kind has not."""
        return self.priors[cell.kind, cell.component][cell.population]

    def band(self, hours: int | None) -> str:
        """``"500-"`` for hours from 500 up to the next band."""
        if hours is None:
            return HOURS_NOT_KNOWN
        return f"{max((start for start in self.bands if start <= hours), default=0)}-"


@dataclass(frozen=True)
class Chance:
    """A beta distribution of the share that needs replacing, and what stands behind it.

    ``effective`` is how many looks the shop's own count as after all discounts; ``here`` are
    looks at the cell itself, ``elsewhere`` those at other models, grades or populations.
    """

    alpha: float
    beta: float
    effective: float
    looked_here: int
    worn_here: int
    looked_elsewhere: int
    worn_elsewhere: int

    @property
    def mean(self) -> float:
        return self.alpha / (self.alpha + self.beta)

    @property
    def percent(self) -> int:
        """Never 0 and never 100: nothing is certain."""
        return min(99, max(1, round(100 * self.mean)))

    @property
    def frequency(self) -> str:
        """The mean as the key of a word."""
        return next((word for most, word in FREQUENCIES if self.mean < most), NEARLY_ALWAYS)

    @property
    def outcomes(self) -> int:
        """How many looks were heard at all."""
        return self.looked_here + self.looked_elsewhere

    @property
    def prior_only(self) -> bool:
        return self.effective == 0

    def among(self, machines: int) -> tuple[float, float]:
        """Mean and variance of how many of so many like machines need it (beta-binomial).

        Source: REFERENCE.md, section 14.
        """
        total = self.alpha + self.beta
        spread = machines * self.alpha * self.beta * (total + machines)
        return machines * self.mean, spread / (total**2 * (total + 1))


def chances(cells: Iterable[Cell], tallies: Iterable[Tally], stated: Stated) -> dict[Cell, Chance]:
    """The chance of every cell, each from the tallies of its kind and component.

    The posterior of each ring is the prior of the next one inwards, at no more than the stated
    strength. A look at another population counts in its ring at the stated discount. The tallies
    are summed up once for all cells that ask for the same levels.
    """
    heard: dict[tuple[str, str], list[Tally]] = {}
    for tally in tallies:
        heard.setdefault((tally.cell.kind, tally.cell.component), []).append(tally)
    sums: dict[tuple, Sums] = {}
    found = {}
    for cell in dict.fromkeys(cells):
        asked = tuple(level for level in LEVELS if getattr(cell, level))
        key = cell.kind, cell.component, asked
        if key not in sums:
            sums[key] = _summed(heard.get(key[:2], ()), asked)
        found[cell] = _chance(cell, asked, sums[key], stated)
    return found


def chance(cell: Cell, tallies: Iterable[Tally], stated: Stated) -> Chance:
    """The chance of one cell: see ``chances``."""
    return chances([cell], tallies, stated)[cell]


def _summed(tallies: Iterable[Tally], asked: Sequence[str]) -> Sums:
    """Looked at and worn, by how a cell's levels begin and by population."""
    sums: Sums = {}
    for tally in tallies:
        values = _values(tally.cell, asked)
        for depth in range(len(values) + 1):
            place = values[:depth], tally.cell.population
            looked, worn = sums.get(place, NOTHING)
            sums[place] = looked + tally.looked, worn + tally.worn
    return sums


def _chance(cell: Cell, asked: Sequence[str], sums: Sums, stated: Stated) -> Chance:
    values = _values(cell, asked)
    rings = [[0.0, 0.0] for _ in range(len(values) + 1)]
    for depth, ring in enumerate(rings):
        for population in POPULATIONS:
            weight = 1 if population == cell.population else stated.elsewhere
            looked, worn = sums.get((values[:depth], population), NOTHING)
            if depth < len(values):
                # What stands in the next ring inwards is counted there.
                inner = sums.get((values[: depth + 1], population), NOTHING)
                looked, worn = looked - inner[0], worn - inner[1]
            ring[0] += weight * worn
            ring[1] += weight * (looked - worn)
    bounds = [stated.strengths[level] for level in asked]
    told = [sums.get(((), population), NOTHING) for population in POPULATIONS]
    looked, worn = sums.get((values, cell.population), NOTHING)
    return Chance(
        *_inwards(stated.prior(cell), rings, bounds),
        looked_here=looked,
        worn_here=worn,
        looked_elsewhere=sum(one[0] for one in told) - looked,
        worn_elsewhere=sum(one[1] for one in told) - worn,
    )


def _values(cell: Cell, asked: Sequence[str]) -> tuple:
    return tuple(getattr(cell, level) for level in asked)


def _inwards(prior: Prior, rings, bounds: Sequence[float]) -> tuple[float, float, float]:
    """Alpha, beta, and how much of their sum is not the prior's."""
    alpha, beta = prior.chance * prior.counts_as, (1 - prior.chance) * prior.counts_as
    told = 0.0
    for place, (worn, sound) in enumerate(rings):
        # The outermost ring meets the prior as it was stated.
        kept = min(1.0, bounds[place - 1] / (alpha + beta)) if place else 1.0
        alpha, beta = alpha * kept + worn, beta * kept + sound
        told = told * kept + worn + sound
    return alpha, beta, told


@cache
def stated() -> Stated:
    """The shop's stated priors; read once."""
    return parse_replacement(tomllib.loads(TABLE.read_text(encoding="utf-8")), TABLE.name)


def parse_replacement(data: Mapping, file: str) -> Stated:
    """The table as read; raises TableError naming the row."""
    strengths, elsewhere = data.get("strengths", {}), data.get("elsewhere", -1)
    require(
        set(strengths) == set(LEVELS) and all(strength > 0 for strength in strengths.values()),
        gettext_noop("%(file)s: every level needs a strength above nothing."),
        file=file,
    )
    require(
        0 <= elsewhere <= 1,
        gettext_noop("%(file)s: what a look elsewhere counts is between 0 and 1."),
        file=file,
    )
    priors = {
        (kind, component): _priors(row, file, f"{kind}.{component}")
        for kind, rows in data.get("priors", {}).items()
        for component, row in rows.items()
    }
    return Stated(priors, strengths, elsewhere, tuple(sorted(data.get("bands", [0]))))


def require_priors(stated: Stated, components: Mapping[str, Collection[str]], file: str) -> None:
    """Refuse a table that lacks a component of a kind (``components`` by kind), or that has one
    that no kind has: its chance is asked for without another look."""
    known = {(kind, one) for kind, several in components.items() for one in several}
    for odd, sentence in (
        (known - set(stated.priors), gettext_noop("%(file)s, %(row)s: the prior is missing.")),
        (
            set(stated.priors) - known,
            gettext_noop("%(file)s, %(row)s: no kind of machine has this component."),
        ),
    ):
        require(not odd, sentence, file=file, row=".".join(min(odd, default=())))


def _priors(row: Sequence[float], file: str, name: str) -> dict[str, Prior]:
    """``[private, repair, club, counts as]`` as priors by population."""
    require(
        len(row) == len(POPULATIONS) + 1 and all(0 < one < 1 for one in row[:-1]) and row[-1] > 0,
        gettext_noop(
            "%(file)s, %(row)s: write three chances between 0 and 1, and how many looks they"
            " count as."
        ),
        file=file,
        row=name,
    )
    return {
        population: Prior(one, row[-1]) for population, one in zip(POPULATIONS, row, strict=False)
    }
