from units.inspections.views.inspecting import (
    InspectionDetail,
    ProtocolDetail,
    ProtocolList,
    finish,
    step,
)
from units.inspections.views.measuring import (
    machine_measures,
    measuring_tool,
    measuring_tools,
    withdraw_measure,
)
from units.inspections.views.outbox import outbox

__all__ = [
    "InspectionDetail",
    "ProtocolDetail",
    "ProtocolList",
    "finish",
    "machine_measures",
    "measuring_tool",
    "measuring_tools",
    "outbox",
    "step",
    "withdraw_measure",
]
