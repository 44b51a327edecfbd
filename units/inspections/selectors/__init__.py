from units.inspections.selectors.assumed import assumed
from units.inspections.selectors.measures import measured, tell, tool_page
from units.inspections.selectors.sheets import (
    InspectionSheet,
    Meaning,
    StepLine,
    cautions,
    findable,
    inspection_sheet,
    meanings_of,
    newest_finished,
    protocol_tables,
    standing_findings,
    tools,
    understanding_rules,
    verdicts_of,
)
from units.inspections.selectors.walking import StepPage, Walk, common_notes, first_positions, walk

__all__ = [
    "InspectionSheet",
    "Meaning",
    "StepLine",
    "StepPage",
    "Walk",
    "assumed",
    "cautions",
    "common_notes",
    "findable",
    "first_positions",
    "inspection_sheet",
    "meanings_of",
    "measured",
    "newest_finished",
    "protocol_tables",
    "standing_findings",
    "tell",
    "tool_page",
    "tools",
    "understanding_rules",
    "verdicts_of",
    "walk",
]
