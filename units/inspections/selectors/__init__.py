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
    "newest_finished",
    "standing_findings",
    "step_page",
    "understanding_rules",
]
