from units.inspections.selectors.measures import measured, tell, tool_page
from units.inspections.selectors.sheets import (
    InspectionSheet,
    Meaning,
    StepLine,
    StepPage,
    cautions,
    inspection_sheet,
    meanings_of,
    newest_finished,
    standing_findings,
    step_page,
    tools,
    understanding_rules,
)

__all__ = [
    "InspectionSheet",
    "Meaning",
    "StepLine",
    "StepPage",
    "cautions",
    "inspection_sheet",
    "meanings_of",
    "measured",
    "newest_finished",
    "standing_findings",
    "step_page",
    "tell",
    "tool_page",
    "tools",
    "understanding_rules",
]
