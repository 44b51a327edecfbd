from units.inspections.views.inspecting import (
    InspectionDetail,
    ProtocolDetail,
    ProtocolList,
    finish,
    step,
)

__all__ = ["InspectionDetail", "ProtocolDetail", "ProtocolList", "finish", "step"]
