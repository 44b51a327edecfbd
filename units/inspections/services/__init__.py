from units.inspections.services.clearing import clear_findings
from units.inspections.services.errors import InspectionError, MissingStepsError
from units.inspections.services.inspecting import (
    finish_inspection,
    open_inspection,
    record_result,
    record_step,
)
from units.inspections.services.measuring import record_reading, withdraw_reading
from units.inspections.services.reference import load_reference

__all__ = [
    "InspectionError",
    "MissingStepsError",
    "clear_findings",
    "finish_inspection",
    "load_reference",
    "open_inspection",
    "record_reading",
    "record_result",
    "record_step",
    "withdraw_reading",
]
