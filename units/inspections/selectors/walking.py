"""The screens of an inspection: every step of its protocol as one page shows it."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from units.binder.models import ErrorCode
from units.binder.selectors import error_codes
from units.catalogue.selectors import model_ids_of
from units.inspections.domain.measures.tools import Tool, tools_at
from units.inspections.models import Inspection, MeasureReading, ProtocolStep, StepResult
from units.inspections.selectors.sheets import cautions, common_notes, tools

CODES = "codes"  # the key of the step that asks what code the display shows


@dataclass(frozen=True)
class StepPage:
    """One step as a screen shows it: the ``place``-th that is asked; ``before`` and ``after`` are
    positions, None at the ends. ``reading`` is what a tool worked out for it in this inspection,
    where nothing is recorded yet; ``codes`` those of the model, at the step that asks for one."""

    inspection: Inspection
    place: int
    step: ProtocolStep
    result: StepResult | None
    before: int | None
    after: int | None
    cautions: list[str]
    reading: MeasureReading | None = None
    codes: list[ErrorCode] = field(default_factory=list)

    @property
    def run_in(self) -> int | None:
        """Minutes, at the step that runs the machine in."""
        runs_in = self.inspection.protocol.run_in.get("step") == self.step.key
        return self.inspection.run_in if runs_in else None

    @property
    def tools(self) -> list[str]:
        return [tools()[key] for key in self.step.tools if key in tools()]

    @property
    def measuring(self) -> list[Tool]:
        """The tools beside the protocol that help at this step."""
        return tools_at(self.step.key, self.inspection.unit.model.kind_id)

    @property
    def notes(self) -> list[str]:
        return common_notes().at(self.step.component_id)


@dataclass(frozen=True)
class Walk:
    """All steps in the order of the hands."""

    inspection: Inspection
    pages: list[StepPage]

    @property
    def done(self) -> int:
        return sum(page.result is not None for page in self.pages)

    @property
    def reasons(self) -> tuple[str, ...]:
        return common_notes().reasons

    def at(self, position: int) -> StepPage | None:
        """None when the protocol has no such step."""
        return next((page for page in self.pages if page.step.position == position), None)


def walk(inspection: Inspection) -> Walk:
    """Three queries, six where an error code is asked for, however many steps there are."""
    results = {row.step_id: row for row in inspection.results.select_related("photo")}
    readings = _readings(inspection)
    steps = list(ProtocolStep.objects.asked_in(inspection).select_related("component"))
    asks_code = any(step.key == CODES for step in steps)
    codes = error_codes(model_ids_of(inspection.unit.model)) if asks_code else []
    places = [None, *(step.position for step in steps), None]
    pages = [
        StepPage(
            inspection=inspection,
            place=place,
            step=step,
            result=results.get(step.pk),
            before=before,
            after=after,
            cautions=[cautions()[key] for key in step.cautions if key in cautions()],
            reading=None if step.pk in results else readings.get((step.key, step.measure)),
            codes=codes if step.key == CODES else [],
        )
        for place, step, before, after in zip(
            range(1, len(steps) + 1), steps, places, places[2:], strict=False
        )
    ]
    return Walk(inspection, pages)


def _readings(inspection: Inspection) -> dict[tuple[str, str], MeasureReading]:
    """The newest standing reading of an inspection by its name and measure; one query."""
    rows = (
        MeasureReading.objects.standing().filter(inspection=inspection).order_by("taken_at", "pk")
    )
    return {(one.name, one.measure): one for one in rows}


def first_positions(inspections: Sequence[Inspection]) -> dict[int, int]:
    """``{inspection: position of the first step that it asks}``; one query."""
    steps = ProtocolStep.objects.filter(protocol__in={one.protocol_id for one in inspections})
    asked = list(steps.order_by("position").values_list("protocol_id", "key", "position"))
    return {
        one.pk: next(
            position
            for protocol, key, position in asked
            if protocol == one.protocol_id and (one.asked is None or key in one.asked)
        )
        for one in inspections
    }
