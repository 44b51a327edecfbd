"""What a measuring tool assumes, in words, each with its grade and its source."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from units.inspections.domain.measures.facts import assumption, facts
from units.inspections.domain.measures.outcome import Tool
from units.inspections.domain.measures.outside import Measure, measures
from units.show.words import number

GRADES = {
    "V": gettext_lazy("read at its source"),
    "C": gettext_lazy("computed from a source"),
    "M": gettext_lazy("assumed, not verified"),
}
TABLES = {
    "friction": gettext_lazy(
        "Friction of belt on deck: new %(new)s, worn %(worn)s, each with a spread of %(spread)s (of"
        " its logarithm); from %(threshold)s on it counts as worn"
    ),
    "ratio": gettext_lazy(
        "Friction as a share of the baseline’s: new %(new)s, worn %(worn)s, each with a spread of"
        " %(spread)s (of its logarithm); from %(threshold)s on it counts as worn"
    ),
    "worn_before": gettext_lazy(
        "Chance of wear before anything was measured: %(home)s from a home, %(club)s from a club,"
        " %(unknown)s where that is not known"
    ),
}


@dataclass(frozen=True)
class Assumed:
    """``source`` is a sentence of the table, translated where it is shown."""

    words: str
    grade: str
    source: str


def assumed(tool: Tool, used: Iterable[tuple[str, str]], system: str) -> list[Assumed]:
    """All that a tool assumes; ``used`` are its instruments, each with the sort of its readings."""
    found = [_single(key) for key in tool.assumes]
    found += [_table(key) for key in tool.tables]
    return found + [_instrument(*one, system) for one in used]


def _single(key: str) -> Assumed:
    row = assumption(key)
    doubt = f" ± {_written(row.spread)}" if row.spread else ""
    words = f"{_(row.name)}: {_written(row.value)}{doubt}"
    return Assumed(words, GRADES[row.grade], row.source)


def _table(key: str) -> Assumed:
    row = facts()[key]
    told = {word: _written(one) for word, one in row.items() if isinstance(one, float)}
    return Assumed(TABLES[key] % told, GRADES[row["grade"]], row["source"])


def _instrument(instrument: str, sort: str, system: str) -> Assumed:
    row, origin = facts()["instruments"][instrument], facts()["instrument_errors"]
    measure = measures(system)[sort]
    sizes = [f"{_written(_step(measure, row['step']))} {measure.symbol}".strip()]
    sizes = (sizes if row["step"] else []) + (
        [f"{_written(100 * row['share'])} %"] if row["share"] else []
    )
    places = {"instrument": _(row["name"]), "most": " + ".join(sizes)}
    words = (
        _("%(instrument)s: off by at most %(most)s") if sizes else _("%(instrument)s: exact")
    ) % places
    return Assumed(words, GRADES[origin["grade"]], origin["source"])


def _step(measure: Measure, step: float) -> float:
    """A difference outside: a scale's zero does not count."""
    return measure.outside(step) - measure.outside(0.0)


def _written(value: float) -> str:
    return number(Decimal(f"{value:.4g}"))
