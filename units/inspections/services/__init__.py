from units.inspections.services.clearing import clear_findings
from units.inspections.services.errors import InspectionError, MissingStepsError, NotYoursError
from units.inspections.services.inspecting import (
    finish_inspection,
    open_inspection,
    record_result,
    record_step,
)
from units.inspections.services.measuring import record_reading, withdraw_reading
from units.inspections.services.outbox import Entry, take_answer, take_finish
from units.inspections.services.outcomes import Look, record_outcomes
from units.inspections.services.reference import load_reference

__all__ = [
    "Entry",
    "InspectionError",
    "Look",
    "MissingStepsError",
    "NotYoursError",
    "clear_findings",
    "finish_inspection",
    "load_reference",
    "open_inspection",
    "record_outcomes",
    "record_reading",
    "record_result",
    "record_step",
    "take_answer",
    "take_finish",
    "withdraw_reading",
]
