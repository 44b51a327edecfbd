"""Reading a protocol's table into plain values."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from units.inspections.domain.tables import (
    gettext_noop,
    require,
    require_known,
    require_once,
    require_text,
)

OCCASIONS = ("arrival", "final")
POWERS = ("off", "on", "running", "any")
PROTOCOL_WORDS = {"slug", "version", "title", "kind", "occasion", "source", "steps"}
CONDITION_WORDS = {"condition", "label", "passes", "component"}


@dataclass(frozen=True)
class Step:
    """A step as the table has it; ``component`` is what it mainly looks at.

    ``low``, ``high`` are in ``measure``; ``minutes`` is what the look takes.
    """

    key: str
    title: str
    instruction: str
    component: str
    power: str = "any"
    conditions: list[dict] = field(default_factory=list)
    measure: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
    fails_as: str = ""
    holds: bool = False
    cautions: list[str] = field(default_factory=list)
    minutes: int = 1
    photo_wanted: bool = False

    @property
    def answer(self) -> str:
        return "condition" if self.conditions else "measure"


@dataclass(frozen=True)
class ProtocolTable:
    slug: str
    version: int
    title: str
    kind: str
    occasion: str
    steps: tuple[Step, ...]


STEP_WORDS = set(Step.__dataclass_fields__)


def parse_protocol(
    data: Mapping, file: str, kinds: Mapping[str, Collection[str]], cautions: Collection[str]
) -> ProtocolTable:
    """Check a protocol against the components of its kind (``{kind: components}``)."""
    places = {"file": file, "row": gettext_noop("heading")}
    require_text(data, ["slug", "title", "kind", "occasion", "source"], **places)
    require_known(data, PROTOCOL_WORDS, "word of a protocol", **places)
    require_known([data["kind"]], kinds, "kind", **places)
    require_known([data["occasion"]], OCCASIONS, "occasion", **places)
    require(
        isinstance(data.get("version"), int) and data["version"] > 0 and data.get("steps"),
        gettext_noop("%(file)s: a protocol has a version (1, 2 ...) and at least one step."),
        **places,
    )
    steps = tuple(
        _step(row, f"step {row.get('key', place)}", file, kinds[data["kind"]], cautions)
        for place, row in enumerate(data["steps"], start=1)
    )
    require_once([step.key for step in steps], file=file)
    heading = {word: data[word] for word in ("slug", "version", "title", "kind", "occasion")}
    return ProtocolTable(**heading, steps=steps)


def _step(row: Mapping, name: str, file: str, components, cautions) -> Step:
    places = {"file": file, "row": name}
    require_text(row, ["key", "title", "instruction", "component"], **places)
    require_known(row, STEP_WORDS, "word of a step", **places)
    require_known([row["component"]], components, "component of this kind", **places)
    require_known([row.get("power", "any")], POWERS, "state of power", **places)
    require_known(row.get("cautions", []), cautions, "caution", **places)
    if row.get("conditions"):
        _check_conditions(row, components, places)
    else:
        _check_measure(row, places)
    limits = {word: Decimal(row[word]) for word in ("low", "high") if word in row}
    return Step(**{**row, **limits})


def _check_conditions(row: Mapping, components, places):
    for condition in row["conditions"]:
        require_text(condition, ["condition", "label"], **places)
        require_known(condition, CONDITION_WORDS, "word of a condition", **places)
        require(
            isinstance(condition.get("passes"), bool),
            gettext_noop("%(file)s, %(row)s: each condition says whether it passes."),
            **places,
        )
        if "component" in condition:
            require_known([condition["component"]], components, "component of this kind", **places)
    words = [condition["condition"] for condition in row["conditions"]]
    require(
        len(set(words)) == len(words) and {c["passes"] for c in row["conditions"]} == {True, False},
        gettext_noop("%(file)s, %(row)s: different conditions, some that pass and some that fail."),
        **places,
    )
    require(
        not row.get("measure"),
        gettext_noop("%(file)s, %(row)s: a step asks for a condition or a measure, not both."),
        **places,
    )


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
