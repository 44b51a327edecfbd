"""Measuring tools and kept readings as screens show them."""

from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from functools import cached_property

from django.utils.translation import gettext, gettext_lazy
from uncertainties import nominal_value, std_dev

from units.catalogue.models import Unit
from units.catalogue.selectors import model_families
from units.inspections.domain.measures import chart
from units.inspections.domain.measures.facts import limit
from units.inspections.domain.measures.friction import taken_alike
from units.inspections.domain.measures.outcome import Chance, Figure, Outcome, Saying, Tool, rounded
from units.inspections.domain.measures.outside import Measure, measures
from units.inspections.domain.measures.tools import TOOLS
from units.inspections.models import (
    Inspection,
    MeasureReading,
    ProtocolStep,
    ReadingWithdrawal,
    StepResult,
)
from units.inspections.selectors.sheets import cautions
from units.show.words import measure as measure_words
from units.show.words import number


def figure_words(figure: Figure, system: str) -> str:
    measure = measures(system)[figure.sort]
    told = measure.outside(figure.number)
    return measure_words(*rounded(nominal_value(told), std_dev(told)), measure.symbol)


# From this share on, in words. Common practice, no published source.
CHANCES = (
    (0.99, gettext_lazy("almost certain")),
    (0.80, gettext_lazy("very likely")),
    (0.60, gettext_lazy("likely")),
    (0.40, gettext_lazy("about even")),
    (0.20, gettext_lazy("not likely")),
    (0.01, gettext_lazy("unlikely")),
    (0.00, gettext_lazy("almost ruled out")),
)


def chance_words(share: float) -> str:
    """A probability in words and in per cent, never as nothing or as all."""
    said = next(words for least, words in CHANCES if share >= least)
    if share < 0.01:
        return gettext("%(said)s (under 1 %%)") % {"said": said}
    if share > 0.99:
        return gettext("%(said)s (over 99 %%)") % {"said": said}
    return gettext("%(said)s (%(percent)d %%)") % {"said": said, "percent": round(100 * share)}


def saying_words(saying: Saying, system: str) -> str:
    places = {}
    for name, place in saying.places.items():
        if isinstance(place, Chance):
            places[name] = chance_words(place.share)
        else:
            places[name] = figure_words(place, system) if isinstance(place, Figure) else place
    return gettext(saying.sentence) % places


@dataclass(frozen=True)
class ToldOutcome:
    """An outcome in words: label and text of each figure, state and sentence of each saying."""

    main: tuple[str, str]
    others: list[tuple[str, str]]
    sayings: list[tuple[str, str]]


def tell(outcome: Outcome, system: str) -> ToldOutcome:
    def line(figure: Figure) -> tuple[str, str]:
        return gettext(figure.label), figure_words(figure, system)

    return ToldOutcome(
        line(outcome.main),
        [line(figure) for figure in outcome.others],
        [(saying.state, saying_words(saying, system)) for saying in outcome.sayings],
    )


def tool_page(tool: Tool, unit, inspection, system: str) -> dict:
    """What a tool's page shows beside its result; ``start`` is what its fields begin with."""
    baseline = baseline_for(unit) if unit and tool.name == "current" else None
    return {
        "start": starting_values(unit, baseline, system),
        "tool": tool,
        "unit": unit,
        "inspection": inspection,
        "system": system,
        "cautions": [cautions()[key] for key in tool.cautions],
        "baseline": baseline,
    }


def baseline_for(unit: Unit) -> MeasureReading | None:
    """The newest current of the machine when it was sound, else of another one of its model and of
    what was merged with that; two queries."""
    family = model_families([unit.model])[unit.model_id]
    found = (
        MeasureReading.objects.baselines()
        .filter(name="current", unit__model__in=family)
        .select_related("unit__model__maker")
    )
    return max(found, key=lambda one: (one.unit_id == unit.pk, one.taken_at, one.pk), default=None)


def starting_values(
    unit: Unit | None, baseline: MeasureReading | None, system: str
) -> dict[str, str]:
    """What a tool's fields begin with: the baseline, and what the model's plate says."""
    start = STARTS | _baseline_values(baseline, system)
    if unit is None:
        return start
    if unit.model.amps:
        start["rated_amps"] = f"{unit.model.amps.normalize():f}"
    if unit.model.volts in (208, 240):
        start["nominal"] = str(unit.model.volts)
    return start


STARTS = {"meter": "watts", "origin": "unknown"}


def _baseline_values(baseline: MeasureReading | None, system: str) -> dict:
    """How it was measured then, to be measured alike now."""
    if baseline is None:
        return {}
    known = measures(system)
    speed = _again(baseline, "speed", known["speed"], baseline.speed)
    walker = _again(baseline, "walker", known["mass"], baseline.walker)
    found = {"speed": speed, "walker": walker, "then_speed": speed, "then_walker": walker}
    given = {"then": baseline.inputs.get("loaded"), "then_idle": baseline.inputs.get("idle")}
    return found | {name: told["given"] for name, told in given.items() if told}


def _again(baseline: MeasureReading, name: str, measure: Measure, kept: Decimal) -> str:
    """A field as it was given then, or, where the measure was another, as it is kept."""
    told = baseline.inputs.get(name)
    if told and told["measure"] == measure.symbol:
        return told["given"]
    return f"{measure.outside(float(kept)):.4g}"


@dataclass(frozen=True)
class Point:
    """One value on a machine's record, by a tool or by a step of an inspection."""

    at: datetime
    value: Decimal
    uncertainty: Decimal
    measure: str
    inspection: Inspection | None
    reading: MeasureReading | None = None

    @property
    def words(self) -> str:
        return measure_words(self.value, self.uncertainty, self.measure)

    @property
    def withdrawal(self) -> ReadingWithdrawal | None:
        """Why it counts no more."""
        return getattr(self.reading, "withdrawal", None)

    @property
    def document(self) -> str:
        return self.inspection.document if self.inspection else ""


@dataclass(frozen=True)
class Series:
    """One measure of one machine, oldest first; at least one of ``points`` or ``withdrawn``."""

    title: str
    points: list[Point]
    withdrawn: list[Point] = field(default_factory=list)

    @property
    def rows(self) -> list[Point]:
        """All that was written down, oldest first, with what counts no more."""
        return sorted([*self.points, *self.withdrawn], key=lambda point: point.at)

    @property
    def first(self) -> Point:
        return self.points[0]

    @property
    def last(self) -> Point:
        return self.points[-1]

    @property
    def change(self) -> str:
        """How the last differs from the first, with its sign; empty for a single point."""
        if len(self.points) < 2:
            return ""
        change = self.last.value - self.first.value
        return f"{'+' if change > 0 else ''}{number(change)} {self.last.measure}".strip()

    @property
    def unlike(self) -> bool:
        """Whether two of its readings say that they were taken at other speeds or with others."""
        told = [
            (float(point.reading.speed), float(point.reading.walker))
            for point in self.points
            if point.reading and point.reading.speed is not None
        ]
        return any(not taken_alike(told[0], one, limit("alike")) for one in told[1:])

    @cached_property
    def chart(self) -> chart.Chart | None:
        """None for a single point: it has no course."""
        if len(self.points) < 2:
            return None
        return chart.draw([(p.at, float(p.value), float(p.uncertainty)) for p in self.points])

    @property
    def levels(self) -> list[tuple[float, str]]:
        return [(one.y, number(Decimal(f"{one.value:.6g}"))) for one in self.chart.levels]


def measured(unit: Unit, document: str = "", system: str = "us") -> list[Series]:
    """A machine's measures over the years, those of one document alone where it is given.

    Readings of tools and values of inspections' steps that share a name stand together, those
    withdrawn beside them. Two queries.
    """
    titles, series = {}, {}
    for name, point, title in [*_from_steps(unit), *_from_tools(unit, system)]:
        if document and point.document != document:
            continue
        titles.setdefault((name, point.measure), title)
        series.setdefault((name, point.measure), []).append(point)
    return [_series(titles[key], points) for key, points in series.items()]


def _series(title: str, points: list[Point]) -> Series:
    counted = [point for point in points if not point.withdrawal]
    gone = [point for point in points if point.withdrawal]
    return Series(title, sorted(counted, key=lambda point: point.at), gone)


def _from_steps(unit: Unit):
    rows = StepResult.objects.filter(
        inspection__unit=unit, value__isnull=False, step__answer=ProtocolStep.Answer.MEASURE
    ).select_related("step", "inspection")
    for result in rows:
        step = result.step
        point = Point(result.recorded_at, result.value, Decimal(0), step.measure, result.inspection)
        yield step.key, point, gettext(step.title)


def _from_tools(unit: Unit, system: str):
    titles = {tool.name: tool.called for tool in TOOLS.values()}
    joined = ("inspection", "withdrawal__withdrawn_by")
    rows = MeasureReading.objects.filter(unit=unit).select_related(*joined)
    for reading in rows:
        value, doubt, symbol = shown(reading, system)
        point = Point(reading.taken_at, value, doubt, symbol, reading.inspection, reading)
        yield reading.name, point, gettext(titles.get(reading.name, reading.name))


def shown(reading: MeasureReading, system: str) -> tuple[Decimal, Decimal, str]:
    """Value, uncertainty and measure of a reading as the shop writes them."""
    speed = reading.measure == "m/s"
    measure = measures(system)["speed"] if speed else Measure(reading.measure)
    value, doubt = (measure.outside(float(one)) for one in (reading.value, reading.uncertainty))
    return *rounded(value, doubt), measure.symbol
