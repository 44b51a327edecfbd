from units.inspections.models.findings import Clearance, Finding
from units.inspections.models.inspections import Inspection, StepResult
from units.inspections.models.outbox import OutboxEntry
from units.inspections.models.outcomes import ComponentOutcome, Population
from units.inspections.models.protocols import Protocol, ProtocolStep
from units.inspections.models.readings import MeasureReading, ReadingWithdrawal

__all__ = [
    "Clearance",
    "ComponentOutcome",
    "Finding",
    "Inspection",
    "MeasureReading",
    "OutboxEntry",
    "Population",
    "Protocol",
    "ProtocolStep",
    "ReadingWithdrawal",
    "StepResult",
]
