"""All measuring tools, in the order in which the bench shows them."""

from units.inspections.domain.measures import deck_tools, speed_tools, supply_tools
from units.inspections.domain.measures.outcome import Tool

TOOLS: dict[str, Tool] = {
    tool.slug: tool for tool in (*deck_tools.TOOLS, *speed_tools.TOOLS, *supply_tools.TOOLS)
}


def tools_at(step: str, kind: str) -> list[Tool]:
    """The tools that work out what a protocol's step (its key) asks of a machine of this kind."""
    return [tool for tool in tools_for(kind) if step in tool.steps]


def tools_for(kind: str | None) -> list[Tool]:
    """The tools that a machine of this kind (its slug) is measured with; all without a machine."""
    return [tool for tool in TOOLS.values() if not kind or not tool.kinds or kind in tool.kinds]
