"""What one row of a seller's list takes from others: merged cells, and rows that go on."""

from collections.abc import Sequence
from dataclasses import replace

from shop.lots.domain.lists import columns as roles
from shop.lots.domain.lists import figures
from shop.lots.domain.lists.columns import Layout, Row
from shop.lots.domain.lists.matching import SURE
from shop.lots.domain.lists.runs import of_count
from shop.lots.domain.lists.source import LINE, QUESTION, Doubt, Draft, SourceRow
from units.sheets.domain.table import Table

LONGEST_NOTE = 300


def with_more(held: SourceRow, row: Row, layout: Layout) -> SourceRow:
    """A line with the serials and the note of the row that goes on with it."""
    draft = held.draft
    cell = layout.cell(row, roles.SERIAL)
    serials = draft.serials + (figures.serials_of(cell.value) if cell else ())
    notes = [row[column].text for column in layout.of(roles.NOTE) if column in row]
    note = "; ".join(filter(None, [draft.note, *notes]))[:LONGEST_NOTE]
    count = draft.count if layout.of(roles.COUNT) else max(draft.count, len(serials))
    serials = of_count(serials, count)
    doubts = tuple(one for one in held.doubts if one.code != "serials")
    if serials and len(serials) != count:
        said = {"count": str(count), "serials": str(len(serials))}
        doubts += (Doubt("serials", draft.ref, said),)
    draft = replace(draft, serials=serials, note=note, count=count, sure=_is_sure(draft, doubts))
    return replace(held, draft=draft, doubts=doubts, fate=QUESTION if doubts else LINE)


def _is_sure(draft: Draft, doubts) -> bool:
    best = draft.candidates[0].confidence if draft.candidates else 0.0
    return not doubts and (draft.sure or best >= SURE)


def spread(table: Table) -> tuple[dict[int, Row], dict[int, set[int]]]:
    """What merged cells say in the rows that they cover, and the columns merged in each row."""
    rows = {next(iter(row.values())).row: row for row in table.rows}
    filled: dict[int, Row] = {}
    merged: dict[int, set[int]] = {}
    for top, bottom, left, _right in table.merged:
        cell = rows.get(top, {}).get(left)
        covered = [number for number in rows if top <= number <= bottom] if bottom > top else []
        if cell is None or len(covered) < 2:
            continue
        for number in covered:
            merged.setdefault(number, set()).add(left)
            if number > top:
                filled.setdefault(number, {})[left] = replace(cell, row=number)
    return filled, merged


def samples_of(rows: Sequence[Row]) -> dict[int, str]:
    samples: dict[int, str] = {}
    for row in rows:
        for column, cell in row.items():
            samples.setdefault(column, cell.text[:30])
    return samples
