"""Sellers' lists: kept as they came, read in the background, laid out as rows and lines."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from shop.lots.domain.lists.columns import ROLES
from shop.lots.domain.lists.source import Draft, Part, Reading
from shop.lots.domain.lists.source import SourceRow as Read
from shop.lots.models import Lot, LotLine, LotSource, SourceRow
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot, require_changeable
from units.sheets.services import SheetRefusedError, check_sheet

State = LotSource.State
MOST_LINES = 5000
LONGEST_PASTED = 200_000
BATCH = 500


@transaction.atomic
def add_source(
    *, lot: Lot, upload: UploadedFile, way: str = "file", by: AbstractBaseUser, at: datetime
) -> LotSource:
    """Keep a list as it came; it waits to be read. The same content again is the one kept before.

    Only its size is looked at now. Raises LotError.
    """
    lot = lock_lot(lot)
    require_changeable(lot)
    try:
        content = check_sheet(upload)
    except SheetRefusedError as error:
        raise LotError(str(error), "file") from error
    source, _added = LotSource.objects.defer("content").get_or_create(
        lot=lot,
        digest=hashlib.sha256(content).hexdigest(),
        defaults={
            "way": LotSource.Way(way),
            "name": (upload.name or "")[:200],
            "content": content,
            "sent_at": at,
            "sent_by": by,
        },
    )
    return source


def add_pasted(*, lot: Lot, text: str, by: AbstractBaseUser, at: datetime) -> LotSource:
    """Keep a text that was pasted: one line for each row, tabs or commas between columns.

    Raises LotError.
    """
    if not text.strip():
        raise LotError(_("Nothing was pasted. Copy the list and paste it here."), "pasted")
    if len(text) > LONGEST_PASTED:
        raise LotError(_("This is too long to paste. Send it as a file."), "pasted")
    upload = ContentFile(text.strip("\n").encode(), name=_("pasted list"))
    return add_source(lot=lot, upload=upload, way="pasted", by=by, at=at)


@transaction.atomic
def choose_columns(
    *, source: LotSource, roles: Mapping[str, Mapping[str, str]], by, at: datetime
) -> LotSource:
    """Say what columns hold, as ``{"sheet|first row": {"column": role}}``; the list is read again.

    Lines of it that somebody settled keep what was settled. Raises LotError.
    """
    require_changeable(lock_lot(source.lot))
    source = LotSource.objects.select_for_update().defer("content").get(pk=source.pk)
    for place, columns in roles.items():
        if wrong := [role for role in columns.values() if role not in ROLES]:
            raise LotError(_("A column cannot hold “%(role)s”.") % {"role": wrong[0]})
        source.chosen[place] = source.chosen.get(place, {}) | dict(columns)
    source.state, source.trouble, source.rows_done = State.WAITING, "", 0
    source.sent_by, source.sent_at = by, at
    source.save(update_fields=["chosen", "state", "trouble", "rows_done", "sent_by", "sent_at"])
    return source


def begin_reading(*, pk: UUID, at: datetime) -> LotSource | None:
    """Take a waiting list to read it now; None when it waits no longer."""
    taken = LotSource.objects.filter(pk=pk, state=State.WAITING)
    if not taken.update(state=State.READING, begun_at=at):
        return None
    return LotSource.objects.get(pk=pk)


def tell_progress(*, source: LotSource, done: int, rows: int) -> None:
    LotSource.objects.filter(pk=source.pk).update(rows_done=done, rows_all=rows)


def keep_unread(*, source: LotSource, trouble: str, at: datetime) -> None:
    """Say that a list could not be read, and why."""
    LotSource.objects.filter(pk=source.pk, state=State.READING).update(
        state=State.UNREAD, trouble=trouble[:400], ended_at=at
    )


@transaction.atomic
def read_again(*, source: LotSource, by: AbstractBaseUser, at: datetime) -> LotSource:
    """Have a list read once more that could not be read. Raises LotError."""
    if source.state == State.READING:
        raise LotError(_("This list is being read just now."))
    return choose_columns(source=source, roles={}, by=by, at=at)


@transaction.atomic
def keep_read(*, source: LotSource, reading: Reading, at: datetime) -> None:
    """Lay a list out: its parts, every row and what it ends as, and a line for each offer.

    What was read before and not settled makes room. Raises LotError for more lines than a lot has.
    """
    lot = lock_lot(source.lot)
    if not lot.may_change:
        keep_unread(source=source, trouble=_("A price hangs on the list already."), at=at)
        return
    drafts = [row for row in reading.rows if row.draft]
    if len(drafts) > MOST_LINES:
        raise LotError(
            _("The list has more than %(most)d lines. Send it in parts.") % {"most": MOST_LINES}
        )
    settled = _make_room(source)
    fresh = [row for row in reading.rows if (row.sheet, row.row) not in settled]
    rows = SourceRow.objects.bulk_create(
        (_row_of(source, place, row) for place, row in enumerate(fresh, start=len(settled) + 1)),
        batch_size=BATCH,
    )
    last = lot.lines.aggregate(last=Max("position"))["last"] or 0
    pairs = [(row, read.draft) for row, read in zip(rows, fresh, strict=True) if read.draft]
    LotLine.objects.bulk_create(
        (line_of(lot, last + place, row, draft) for place, (row, draft) in enumerate(pairs, 1)),
        batch_size=BATCH,
    )
    LotSource.objects.filter(pk=source.pk).update(
        state=State.READ,
        ended_at=at,
        parts=[_part_of(part) for part in reading.parts],
        rows_done=len(reading.rows),
        rows_all=len(reading.rows),
    )


def _make_room(source: LotSource) -> set[tuple[str, int]]:
    """Remove what was read and nobody settled; what is left, by sheet and row."""
    LotLine.objects.filter(row__source=source, state=LotLine.State.PROPOSED).delete()
    source.rows.filter(line=None).exclude(reason=SourceRow.Reason.PERSON).delete()
    kept = list(source.rows.order_by("place"))
    for place, row in enumerate(kept, start=1):
        row.place = place
    SourceRow.objects.bulk_update(kept, ["place"], batch_size=BATCH)
    return {(row.sheet, row.row) for row in kept}


def _row_of(source: LotSource, place: int, row: Read) -> SourceRow:
    questions = [{"code": one.code, "ref": one.ref, "named": one.named} for one in row.doubts]
    return SourceRow(
        source=source,
        place=place,
        sheet=row.sheet[:200],
        row=row.row,
        upto=row.upto,
        text=row.text,
        fate=row.fate,
        reason=row.reason,
        questions=questions,
    )


def line_of(lot: Lot, position: int, row: SourceRow | None, draft: Draft) -> LotLine:
    """A line to confirm, from what a row offers; the likeliest model stands in it already."""
    best = draft.candidates[0] if draft.candidates and draft.sort == "machine" else None
    return LotLine(
        lot=lot,
        position=position,
        row=row,
        ref=draft.ref,
        sort=draft.sort,
        sure=draft.sure,
        text=draft.text,
        model_id=best.model.pk if best else None,
        candidates=[[one.model.pk, round(100 * one.confidence)] for one in draft.candidates],
        maker=draft.maker,
        number=draft.number,
        kind_id=draft.kind or None,
        count=draft.count,
        serials=[serial[:60] for serial in draft.serials],
        hours=draft.hours,
        year=draft.year,
        note=draft.note,
        goods=draft.goods,
        measure=draft.measure,
        quantity=draft.quantity,
        pieces=draft.pieces,
        asked=draft.asked,
    )


def _part_of(part: Part) -> dict:
    columns = [
        {
            "column": column,
            "role": one.role,
            "sure": round(100 * one.confidence),
            "heading": one.heading[:60],
            "sample": part.samples.get(column, ""),
        }
        for column, one in sorted(part.layout.columns.items())
    ]
    return {
        "place": f"{part.sheet}|{part.first}",
        "sheet": part.sheet,
        "first": part.first,
        "last": part.last,
        "heading_row": part.layout.heading_row,
        "columns": columns,
    }
