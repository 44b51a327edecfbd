"""Moves of the ledger. Every write locks the shelves of its part first, parts by rising id."""
# ruff: noqa: A002 - a bin is the trade's word

from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from parts.fits.models import Part
from parts.stock.domain import fifo
from parts.stock.models import Bin, StockMove
from parts.stock.services.ledger import (
    give_back,
    newest_unit_cost,
    put_in,
    take_out,
    write_move,
)
from parts.stock.services.shelves import (
    StockError,
    locked_shelf,
    require_quantity,
    shelf_holding,
)
from units.rows.services import next_number
from units.show import words
from units.show.words import day as written

MOST_COST = Decimal(10) ** 9


@transaction.atomic
def receive_stock(
    *, part: Part, bin: Bin, quantity: Decimal, unit_cost: Decimal, on, document: str, by, at,
    reason: str = "received", note: str = "",
) -> StockMove:  # fmt: skip
    """Put pieces on the shelf; their cost makes a new layer."""
    require_quantity(quantity)
    if unit_cost < 0:
        raise StockError(_("A cost is not less than nothing."), "unit_cost")
    cost = fifo.cost_of(quantity, unit_cost)
    if cost >= MOST_COST:
        raise StockError(_("This costs more than a delivery can. Check the figures."), "unit_cost")
    require_open(on)
    entry = {"reason": reason, "on": on, "document": document, "by": by, "at": at, "note": note}
    return put_in(locked_shelf(part, bin), quantity, cost, unit_cost, **entry)


@transaction.atomic
def issue_stock(
    *, part: Part, quantity: Decimal, reason: str, on, document: str, by, at,
    bin: Bin | None = None, note: str = "", key=None,
) -> StockMove:  # fmt: skip
    """Take pieces off the shelf at the cost of the oldest layers, or at the average.

    Without ``bin`` they come from the first bin, by name, that holds them all. Only what had come
    by ``on`` is taken, so that the shelf was below zero on no day.
    """
    require_quantity(quantity)
    require_open(on)
    shelf = shelf_holding(part, quantity, bin)
    entry = {"document": document, "by": by, "at": at, "note": note, "key": key}
    return take_out(shelf, quantity, reason=reason, on=on, **entry)


@transaction.atomic
def return_stock(*, move: StockMove, on, by, at) -> StockMove:
    """Put back all that a move took, at the cost at which it went."""
    require_open(on)
    shelf = locked_shelf(move.part, move.bin)
    if move.quantity > 0 or move.reason == StockMove.Reason.MOVED:
        raise StockError(_("Only what was taken off the shelf can be put back."))
    if on < move.moved_on:
        raise StockError(
            _("It was taken on %(day)s and cannot be put back before.")
            % {"day": written(move.moved_on)},
            "on",
        )
    earlier = StockMove.objects.filter(reverses=move).select_related("recorded_by").first()
    if earlier:
        raise StockError(
            _("%(person)s put this back already, on %(day)s.")
            % {"person": words.person(earlier.recorded_by), "day": written(earlier.moved_on)}
        )
    entry = {"on": on, "document": move.document, "by": by, "at": at, "reverses": move}
    back = write_move(shelf, -move.quantity, -move.cost, reason="returned", **entry)
    give_back(move, back)
    return back


@transaction.atomic
def count_stock(
    *, part: Part, bin: Bin, counted: Decimal, on, note: str, by, at, seen: int | None = None
) -> StockMove | None:
    """Set a bin to what was counted; ``None`` when the count agrees.

    ``seen`` is :func:`parts.stock.selectors.newest_move_id` from when the count began; a move since
    then spoils it. Found pieces cost what the newest delivery did, and nothing if there was none.
    """
    if counted < 0:
        raise StockError(_("A count is not less than nothing."), "counted")
    require_come(on, at)
    require_open(on)
    shelf = locked_shelf(part, bin)
    difference = counted - shelf.on_hand
    if not difference:
        return None
    newest = StockMove.objects.filter(part=part).order_by("-id").first()
    if seen is not None and newest and newest.id > seen:
        raise StockError(
            _("The shelf moved while you counted (%(reason)s, %(document)s). Count again.")
            % {"reason": newest.get_reason_display(), "document": newest.document}
        )
    entry = {
        "reason": "counted",
        "on": on,
        "by": by,
        "at": at,
        "note": note,
        "document": f"C{next_number('count'):05}",
    }
    if difference < 0:
        return take_out(shelf, -difference, **entry)
    unit_cost = newest_unit_cost(part)
    return put_in(shelf, difference, fifo.cost_of(difference, unit_cost), unit_cost, **entry)


def require_come(on, at) -> None:
    """Refuse a day that has not come yet."""
    if on > timezone.localdate(at):
        raise StockError(_("%(day)s has not come yet.") % {"day": written(on)}, "on")
