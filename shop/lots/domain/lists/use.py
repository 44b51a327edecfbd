"""How much a machine was used: its hours and its year, whose columns many a seller mixes up."""

from shop.lots.domain.lists import columns as roles
from shop.lots.domain.lists import figures
from shop.lots.domain.lists.columns import Layout, Row
from shop.lots.domain.lists.source import Doubt
from shop.lots.domain.lists.words import is_one_of
from units.sheets.domain.table import Cell

OLDEST = 60  # years, that a figure in a column of years may still be an age


def use_of(row: Row, layout: Layout, mixed: bool) -> tuple[int | None, int | None, list[Doubt]]:
    """Hours and year of a machine, and what is unclear; ``mixed`` is of :func:`is_mixed`."""
    hours, year, doubts = None, None, []
    for role in (roles.HOURS, roles.YEAR):
        cell = layout.cell(row, role)
        if cell is None or is_one_of(cell.text, "nothing"):
            continue
        found_hours, found_year, unclear = _one_use(cell, role, mixed)
        hours = found_hours if found_hours is not None else hours
        year = found_year if found_year is not None else year
        doubts += unclear
    return hours, year, doubts


def _one_use(cell: Cell, role: str, mixed: bool):
    by_hours, by_year = figures.hours_of(cell.value), figures.year_of(cell.value)
    if mixed and figures.is_bare_year(cell.value):
        return None, None, [Doubt("hours-or-year", cell.ref, {"text": cell.text})]
    if role == roles.YEAR:
        return (by_hours, None, []) if is_hours(cell) else (None, by_year, [])
    if by_hours is not None:
        return by_hours, None, []
    if by_year is None and any(c.isdigit() for c in cell.text):
        return None, None, [Doubt("hours", cell.ref, {"text": cell.text[:60]})]
    return None, by_year, []


def is_hours(cell: Cell) -> bool:
    """Whether what stands in a column of years is hours: it says so, or is neither year nor age."""
    hours = figures.hours_of(cell.value)
    if hours is None or figures.year_of(cell.value) is not None:
        return False
    return hours > OLDEST or "h" in cell.text.casefold()


def is_mixed(cells: list[Cell], role: str) -> bool:
    """Whether a column of hours holds days or years as well, or one of years mostly hours."""
    if role == roles.YEAR:
        return 2 * sum(map(is_hours, cells)) > len(cells)
    return any(
        figures.hours_of(cell.value) is None and figures.year_of(cell.value) is not None
        for cell in cells
    )


def is_unread_year(cell: Cell, role: str) -> bool:
    """Whether figures in a column of years are none that we read: an age, the hours of two."""
    return role == roles.YEAR and figures.year_of(cell.value) is None and not is_hours(cell)
