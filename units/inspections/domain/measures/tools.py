"""All measuring tools, in the order in which the bench shows them."""

from units.inspections.domain.measures import deck_tools, speed_tools, supply_tools
from units.inspections.domain.measures.outcome import Tool

TOOLS: dict[str, Tool] = {
    tool.slug: tool for tool in (*deck_tools.TOOLS, *speed_tools.TOOLS, *supply_tools.TOOLS)
}
