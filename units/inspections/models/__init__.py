from units.inspections.models.findings import Clearance, Finding
from units.inspections.models.inspections import Inspection, StepResult
from units.inspections.models.protocols import Protocol, ProtocolStep

__all__ = ["Clearance", "Finding", "Inspection", "Protocol", "ProtocolStep", "StepResult"]
