"""Scrap what lies on the shelf, or move it to another bin."""
# ruff: noqa: A002 - a bin is the trade's word

from decimal import Decimal
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from parts.fits.models import Part
from parts.stock.models import Bin, StockMove
from parts.stock.services.ledger import write_move
from parts.stock.services.moving import issue_stock, require_come
from parts.stock.services.shelves import (
    NotEnoughStockError,
    StockError,
    locked_shelf,
    locked_shelves,
    require_quantity,
)
from units.rows.services import next_number
from units.show.words import number as figure


@transaction.atomic
def scrap_stock(
    *, part: Part, bin: Bin, quantity: Decimal, note: str, on, by, at, key: UUID
) -> StockMove:
    """Write off pieces of a bin and say why. The same ``key`` returns the first move."""
    if earlier := _written_before(part, key):
        return earlier
    note = " ".join(note.split())
    if not note:
        raise StockError(_("Say why it is scrapped."), "note")
    require_come(on, at)
    return issue_stock(
        part=part, bin=bin, quantity=quantity, reason="scrapped", note=note, key=key,
        document=f"W{next_number('scrap'):05}", on=on, by=by, at=at,
    )  # fmt: skip


@transaction.atomic
def transfer_stock(
    *, part: Part, bin: Bin, to_bin: Bin, quantity: Decimal, on, by, at, key: UUID, note: str = ""
) -> StockMove:
    """Carry pieces to another bin: two lines of the ledger without cost, layers as they were.

    Gives the line of the bin they left. The same ``key`` returns the first.
    """
    if earlier := _written_before(part, key):
        return earlier
    require_quantity(quantity)
    if bin == to_bin:
        raise StockError(
            _("It lies in %(bin)s already. Name another bin.") % {"bin": bin}, "to_bin"
        )
    require_come(on, at)
    require_open(on)
    arriving = locked_shelf(part, to_bin)
    leaving = next((s for s in locked_shelves(part) if s.bin_id == bin.pk), None)
    lying = leaving.on_hand if leaving else Decimal(0)
    if lying < quantity:
        raise NotEnoughStockError(
            _("In %(bin)s lie %(lying)s of %(part)s, not %(wanted)s.")
            % {"bin": bin, "lying": figure(lying), "part": part, "wanted": figure(quantity)},
            "quantity",
        )
    entry = {
        "reason": StockMove.Reason.MOVED,
        "on": on,
        "document": f"T{next_number('transfer'):05}",
        "by": by,
        "at": at,
        "note": " ".join(note.split()),
    }
    left = write_move(leaving, -quantity, Decimal(0), key=key, **entry)
    write_move(arriving, quantity, Decimal(0), **entry)
    return left


def _written_before(part: Part, key: UUID) -> StockMove | None:
    """The move of this once-only key; the part's shelves are held, so that two presses queue."""
    locked_shelves(part)
    return StockMove.objects.filter(key=key).first()
