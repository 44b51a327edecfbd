"""A step of a protocol, read from a table and checked."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from units.inspections.domain.judging import WITHIN_LIMITS
from units.inspections.domain.tables import (
    gettext_noop,
    require,
    require_known,
    require_text,
)
from units.inspections.domain.understanding import NOT_POSSIBLE, Pair

POWERS = ("off", "on", "running", "any")
PLACES = ("bench", "home", "club")
WALK_AWAY = "walk-away"
ENDS = (WALK_AWAY,)
CONDITION_WORDS = {"condition", "label", "passes", "component", "ends", "why"}


@dataclass(frozen=True)
class Step:
    """A step as a protocol asks it; ``component`` is what it mainly looks at.

    ``low``, ``high`` are in ``measure``; ``seconds`` is what the look takes. ``asks`` marks a
    question that no answer fails. ``photo`` says what a picture should show, empty where none is
    wanted. ``always``, ``after`` (components worked on) and ``places`` say when a final test that
    follows the work asks it.
    """

    key: str
    title: str
    instruction: str
    component: str
    power: str = "any"
    conditions: list[dict] = field(default_factory=list)
    asks: bool = False
    measure: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
    fails_as: str = ""
    holds: bool = False
    cautions: list[str] = field(default_factory=list)
    tools: list[str] = field(default_factory=list)
    photo: str = ""
    seconds: int = 60
    always: bool = False
    after: list[str] = field(default_factory=list)
    places: list[str] = field(default_factory=list)

    @property
    def answer(self) -> str:
        return "condition" if self.conditions else "measure"

    @property
    def judged(self) -> set[str]:
        """The components of which an answer to this step may speak."""
        return {self.component} | {row.get("component", self.component) for row in self.conditions}

    @property
    def findable(self) -> set[Pair]:
        """Every (component, condition) that may be written down."""
        found = {
            (row.get("component", self.component), row["condition"]) for row in self.conditions
        }
        if self.answer == "measure":
            found |= {(self.component, WITHIN_LIMITS)}
            found |= {(self.component, self.fails_as)} if self.fails_as else set()
        return found | {(self.component, NOT_POSSIBLE)}


STEP_WORDS = set(Step.__dataclass_fields__)


@dataclass(frozen=True)
class Known:
    """What a table may name: components by kind, cautions and tools by key."""

    kinds: Mapping[str, Collection[str]]
    cautions: Collection[str]
    tools: Collection[str] = ()


def parse_step(row: Mapping, places: Mapping, kind: str, known: Known) -> Step:
    """Check a step's words; ``places`` name file and row in a refusal."""
    components = known.kinds[kind]
    require_text(row, ["key", "title", "instruction", "component"], **places)
    require_known(row, STEP_WORDS, "word of a step", **places)
    require_known([row["component"]], components, "component of this kind", **places)
    require_known([row.get("power", "any")], POWERS, "state of power", **places)
    require_known(row.get("cautions", []), known.cautions, "caution", **places)
    require_known(row.get("tools", []), known.tools, "tool", **places)
    require_known(row.get("after", []), components, "component of this kind", **places)
    require_known(row.get("places", []), PLACES, "place", **places)
    require(
        isinstance(row.get("seconds", 60), int) and row.get("seconds", 60) > 0,
        gettext_noop("%(file)s, %(row)s: “seconds” is a whole number above 0."),
        **places,
    )
    if row.get("conditions"):
        _check_conditions(row, components, places)
    else:
        _check_measure(row, places)
    limits = {word: Decimal(row[word]) for word in ("low", "high") if word in row}
    return Step(**{**row, **limits})


def _check_conditions(row: Mapping, components, places):
    for condition in row["conditions"]:
        _check_condition(condition, components, places)
    words = [condition["condition"] for condition in row["conditions"]]
    outcomes = {condition["passes"] for condition in row["conditions"]}
    require(
        len(set(words)) == len(words) > 1,
        gettext_noop("%(file)s, %(row)s: at least two conditions, each named once."),
        **places,
    )
    require(
        outcomes == ({True} if row.get("asks") else {True, False}),
        gettext_noop(
            "%(file)s, %(row)s: some conditions pass and some fail; of a step that only asks, all"
            " pass."
        ),
        **places,
    )
    require(
        not row.get("measure"),
        gettext_noop("%(file)s, %(row)s: a step asks for a condition or a measure, not both."),
        **places,
    )


def _check_condition(condition: Mapping, components, places):
    require_text(condition, ["condition", "label"], **places)
    require_known(condition, CONDITION_WORDS, "word of a condition", **places)
    require(
        isinstance(condition.get("passes"), bool),
        gettext_noop("%(file)s, %(row)s: each condition says whether it passes."),
        **places,
    )
    if "component" in condition:
        require_known([condition["component"]], components, "component of this kind", **places)
    if "ends" in condition:
        require_known([condition["ends"]], ENDS, "end of an inspection", **places)
        require_text(condition, ["why"], **places)


def _check_measure(row: Mapping, places):
    require(
        row.get("measure"),
        gettext_noop("%(file)s, %(row)s: conditions, or a measure with its unit, are missing."),
        **places,
    )
    require(
        ("low" not in row and "high" not in row) or row.get("fails_as"),
        gettext_noop("%(file)s, %(row)s: say in “fails_as” what a value outside is called."),
        **places,
    )
