"""Lines of a lot: confirmed, corrected, left out, added by hand."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from shop.lots.domain.lists.matching import LIKELY, is_maker
from shop.lots.models import Lot, LotLine, MakerAlias, SourceRow
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot, require_changeable, spread_machines
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Kind, MachineModel
from units.catalogue.services import CatalogueError, find_or_add_maker, find_or_add_model

State, Sort = LotLine.State, LotLine.Sort
Fate = SourceRow.Fate


@dataclass(frozen=True)
class Facts:
    """What a person says of a line.

    Machines: a known ``model``, or maker, number and kind as typed. Goods: their sort, a measure
    and a quantity of it.
    """

    text: str
    model: MachineModel | None = None
    maker: str = ""
    number: str = ""
    kind: Kind | None = None
    count: int = 1
    serials: Sequence[str] = ()
    hours: int | None = None
    year: int | None = None
    note: str = ""
    goods: str = ""
    measure: str = ""
    quantity: Decimal | None = None
    pieces: int | None = None
    asked: Decimal | None = None


@transaction.atomic
def confirm_sure(*, lot: Lot, by: AbstractBaseUser, at: datetime) -> int:
    """Confirm every line that is sure, as it stands; how many there were."""
    require_changeable(lock_lot(lot))
    sure = lot.lines.filter(state=State.PROPOSED, sure=True)
    return sure.update(state=State.CONFIRMED, settled_at=at, settled_by=by)


@transaction.atomic
def confirm_chosen(
    *, lot: Lot, chosen: dict[int, int | None], by: AbstractBaseUser, at: datetime
) -> int:
    """Confirm lines with the model chosen for each, None for as typed; how many.

    A line with a question is not confirmed this way. Raises LotError.
    """
    require_changeable(lock_lot(lot))
    lines = lot.lines.filter(state=State.PROPOSED, pk__in=chosen).exclude(row__fate=Fate.QUESTION)
    lines = list(lines.select_related("kind"))
    models = MachineModel.objects.select_related("maker", "merged_into__maker").in_bulk(
        [model for model in chosen.values() if model]
    )
    for line in lines:
        if line.sort == Sort.MACHINE:
            line.model = models.get(chosen[line.pk]) or _as_typed(
                line.maker, line.number, line.kind
            )
            if chosen[line.pk] != _proposed_first(line):
                learn_maker(line)
        line.state, line.settled_at, line.settled_by = State.CONFIRMED, at, by
    LotLine.objects.bulk_update(
        lines, ["model", "state", "settled_at", "settled_by"], batch_size=500
    )
    return len(lines)


def _proposed_first(line: LotLine) -> int | None:
    """What one press confirms without a choice: nobody has recognised anything by it."""
    return next((pk for pk, sure in line.candidates if sure >= 100 * LIKELY), None)


def _as_typed(maker: str, number: str, kind: Kind | None) -> MachineModel | None:
    """The model as it was typed, new and unconfirmed where nobody had met it; None where too little
    is known of it to be a model."""
    if not (match_key(maker) and match_key(number) and kind):
        return None
    try:
        return find_or_add_model(maker=find_or_add_maker(name=maker), number=number, kind=kind)
    except CatalogueError as error:
        raise LotError(str(error), "number") from error


def learn_maker(line: LotLine) -> None:
    """Remember how a seller calls a maker whose model a person recognised."""
    said = line.maker.strip()
    if not (line.model and match_key(said)) or is_maker(said, line.model.maker.name):
        return
    MakerAlias.objects.update_or_create(
        key=match_key(said)[:80], defaults={"name": said[:80], "maker": line.model.maker}
    )


@transaction.atomic
def settle_line(*, line: LotLine, facts: Facts, by: AbstractBaseUser, at: datetime) -> LotLine:
    """Confirm a line with what a person says of it; its questions are answered by that.

    Raises LotError, and then nothing is changed.
    """
    lot = lock_lot(line.lot)
    require_changeable(lot)
    line = LotLine.objects.select_for_update(of=("self",)).select_related("row").get(pk=line.pk)
    _write(line, facts)
    line.state, line.settled_at, line.settled_by = State.CONFIRMED, at, by
    line.save()
    learn_maker(line)
    if line.row:
        line.row.fate, line.row.reason = Fate.LINE, ""
        line.row.save(update_fields=["fate", "reason"])
    if lot.state != Lot.State.LISTING:
        _respread(line)
    return line


def _respread(line: LotLine) -> None:
    """Machines of a line that changed after the list was confirmed."""
    if line.sort == Sort.MACHINE:
        spread_machines(line)
    elif line.machines.filter(looked_at__isnull=False).exists():
        raise LotError(_("Machines of this line were looked at: it cannot become goods."))
    else:
        line.machines.all().delete()


def _write(line: LotLine, facts: Facts) -> None:
    text = " ".join(facts.text.split())
    if not text:
        raise LotError(_("Say what it is, in the seller's words or your own."), "text")
    line.text, line.note, line.asked = text[:200], facts.note.strip()[:300], facts.asked
    if facts.goods:
        _write_goods(line, facts)
    else:
        _write_machines(line, facts)


def _write_goods(line: LotLine, facts: Facts) -> None:
    if not facts.measure or not facts.quantity or facts.quantity <= 0:
        raise LotError(_("Say how much there is, and in which measure."), "quantity")
    line.sort, line.goods, line.measure = Sort.GOODS, facts.goods, facts.measure
    line.quantity, line.pieces = facts.quantity, facts.pieces
    line.model, line.kind, line.count, line.serials = None, None, 1, []
    line.hours = line.year = None


def _write_machines(line: LotLine, facts: Facts) -> None:
    if facts.count < 1:
        raise LotError(_("A line counts at least one machine."), "count")
    if len(facts.serials) > facts.count:
        raise LotError(_("There are more serial numbers than machines. Raise the count."), "count")
    if not (facts.model or facts.kind):
        raise LotError(_("Say which model it is, or at least what kind of machine."), "kind")
    line.sort, line.goods, line.measure = Sort.MACHINE, "", ""
    line.quantity = line.pieces = None
    line.maker, line.number = facts.maker.strip()[:80], facts.number.strip()[:60]
    line.model = facts.model or _as_typed(line.maker, line.number, facts.kind)
    line.kind = line.model.kind if line.model else facts.kind
    line.count, line.serials = facts.count, [one.strip()[:60] for one in facts.serials]
    line.hours, line.year = facts.hours, facts.year


@transaction.atomic
def add_line(*, lot: Lot, facts: Facts, by: AbstractBaseUser, at: datetime) -> LotLine:
    """Write a line by hand. Raises LotError."""
    lot = lock_lot(lot)
    require_changeable(lot)
    last = lot.lines.aggregate(last=Max("position"))["last"] or 0
    line = LotLine(lot=lot, position=last + 1, state=State.CONFIRMED, settled_at=at, settled_by=by)
    _write(line, facts)
    line.save()
    if lot.state != Lot.State.LISTING and line.sort == Sort.MACHINE:
        spread_machines(line)
    return line


@transaction.atomic
def drop_line(*, line: LotLine, by: AbstractBaseUser, at: datetime) -> LotLine:
    """Leave a line out: its row is none of the offer. Raises LotError."""
    require_changeable(lock_lot(line.lot))
    line = LotLine.objects.select_for_update(of=("self",)).select_related("row").get(pk=line.pk)
    if line.machines.filter(looked_at__isnull=False).exists():
        raise LotError(_("Machines of this line were looked at. Write there that they stay."))
    line.machines.all().delete()
    line.state, line.settled_at, line.settled_by = State.DROPPED, at, by
    line.save(update_fields=["state", "settled_at", "settled_by"])
    if line.row:
        line.row.fate, line.row.reason = Fate.NOT_LINE, SourceRow.Reason.PERSON
        line.row.save(update_fields=["fate", "reason"])
    return line


@transaction.atomic
def make_line(*, lot: Lot, row: SourceRow, by: AbstractBaseUser, at: datetime) -> LotLine:
    """Say that a row which was taken for none is a line all the same; it waits to be settled.

    Raises LotError.
    """
    require_changeable(lock_lot(lot))
    row = SourceRow.objects.select_for_update().get(pk=row.pk)
    if existing := LotLine.objects.filter(row=row).first():
        existing.state, existing.settled_at, existing.settled_by = State.PROPOSED, None, None
        existing.save(update_fields=["state", "settled_at", "settled_by"])
        line = existing
    else:
        last = lot.lines.aggregate(last=Max("position"))["last"] or 0
        line = LotLine.objects.create(
            lot=lot, position=last + 1, row=row, ref=f"A{row.row}", text=row.text[:200] or "?"
        )
    row.fate, row.reason = Fate.QUESTION, ""
    row.questions = row.questions or [
        {"code": "what", "ref": f"A{row.row}", "named": {"text": row.text[:60]}}
    ]
    row.save(update_fields=["fate", "reason", "questions"])
    return line
