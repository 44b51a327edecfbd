"""The stock ledger. Every write locks the shelves of its part first, parts by rising id."""
# ruff: noqa: A002 - a bin is the trade's word

from decimal import Decimal

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from parts.fits.models import Part
from parts.fits.services import RefusedError
from parts.stock.domain import fifo
from parts.stock.models import Bin, CostLayer, LayerUse, Shelf, StockMove
from units.rows.services import next_number
from units.show import words
from units.show.words import day as written
from units.show.words import number as figure

MOST_COST = Decimal(10) ** 9


class StockError(RefusedError):
    """A movement that the shelf does not allow."""


class NotEnoughStockError(StockError):
    """More was asked for than lies there."""


@transaction.atomic
def find_or_add_bin(*, name: str) -> Bin:
    name = " ".join(name.split())
    if not name:
        raise StockError(_("Say in which bin it lies."), "bin")
    found = Bin.objects.filter(name__iexact=name).first()
    return found or Bin.objects.get_or_create(name=name)[0]


@transaction.atomic
def receive_stock(
    *, part: Part, bin: Bin, quantity: Decimal, unit_cost: Decimal, on, document: str, by, at
) -> StockMove:
    """Put pieces on the shelf; their cost makes a new layer."""
    _require_quantity(quantity)
    if unit_cost < 0:
        raise StockError(_("A cost is not less than nothing."), "unit_cost")
    cost = fifo.cost_of(quantity, unit_cost)
    if cost >= MOST_COST:
        raise StockError(_("This costs more than a delivery can. Check the figures."), "unit_cost")
    require_open(on)
    shelf = _locked_shelf(part, bin)
    move = _move(shelf, quantity, cost, reason="received", on=on, document=document, by=by, at=at)
    _add_layer(move, unit_cost)
    return move


@transaction.atomic
def issue_stock(
    *, part: Part, quantity: Decimal, reason: str, on, document: str, by, at, bin: Bin | None = None
) -> StockMove:
    """Take pieces off the shelf at the cost of the oldest layers.

    Without ``bin`` they come from the first bin, by name, that holds them all. Only what had come
    by ``on`` is taken, so that the shelf was below zero on no day.
    """
    _require_quantity(quantity)
    require_open(on)
    shelf = _holding(part, _locked_shelves(part), quantity, bin)
    return _take(shelf, quantity, reason=reason, on=on, document=document, by=by, at=at)


@transaction.atomic
def return_stock(*, move: StockMove, on, by, at) -> StockMove:
    """Put back all that a move took, into the layers it came from and at their cost."""
    require_open(on)
    shelf = _locked_shelf(move.part, move.bin)
    if move.quantity > 0:
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
            % {
                "person": words.person(earlier.recorded_by),
                "day": written(earlier.moved_on),
            }
        )
    back = _move(
        shelf,
        -move.quantity,
        -move.cost,
        reason="returned",
        on=on,
        document=move.document,
        by=by,
        at=at,
        reverses=move,
    )
    for use in move.layer_uses.select_related("layer").order_by("layer_id"):
        _use_layer(use.layer, back, -use.quantity, -use.cost)
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
    if on > timezone.localdate(at):
        raise StockError(_("%(day)s has not come yet.") % {"day": written(on)}, "on")
    require_open(on)
    shelf = _locked_shelf(part, bin)
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
        return _take(shelf, -difference, **entry)
    newest_layer = CostLayer.objects.filter(part=part).oldest_first().last()
    unit_cost = newest_layer.unit_cost if newest_layer else Decimal(0)
    move = _move(shelf, difference, fifo.cost_of(difference, unit_cost), **entry)
    _add_layer(move, unit_cost)
    return move


def _require_quantity(quantity: Decimal) -> None:
    if quantity <= 0:
        raise StockError(_("The quantity must be more than nothing."), "quantity")


def _locked_shelves(part) -> list[Shelf]:
    """All shelves of a part, locked: layers belong to the part, so its takers queue here."""
    shelves = Shelf.objects.select_for_update(of=("self",)).filter(part=part)
    return list(shelves.select_related("bin").order_by("pk"))


def _locked_shelf(part, bin) -> Shelf:
    Shelf.objects.get_or_create(part=part, bin=bin)
    return next(shelf for shelf in _locked_shelves(part) if shelf.bin_id == bin.pk)


def _holding(part, shelves, quantity, bin) -> Shelf:
    """The shelf to take from, or :class:`NotEnoughStockError` saying what lies where."""
    allowed = [s for s in shelves if s.on_hand and (bin is None or s.bin_id == bin.pk)]
    for shelf in sorted(allowed, key=lambda shelf: shelf.bin.name):
        if shelf.on_hand >= quantity:
            return shelf
    words = {"part": part, "wanted": figure(quantity)}
    if not allowed:
        raise NotEnoughStockError(
            _("There is none of %(part)s on the shelf; %(wanted)s were wanted.") % words,
            "quantity",
        )
    words["bins"] = ", ".join(f"{shelf.bin.name}: {figure(shelf.on_hand)}" for shelf in allowed)
    raise NotEnoughStockError(
        _("No bin holds %(wanted)s of %(part)s. On the shelf: %(bins)s.") % words, "quantity"
    )


def _take(shelf, quantity, *, on, **entry) -> StockMove:
    layers = list(
        CostLayer.objects.select_for_update(of=("self",))
        .filter(part=shelf.part_id)
        .not_empty()
        .come_by(on)
        .oldest_first()
    )
    try:
        taken = fifo.take(
            [fifo.Layer(layer.pk, layer.quantity_left, layer.cost_left) for layer in layers],
            quantity,
        )
    except fifo.TooFewError as error:
        raise NotEnoughStockError(
            _("On %(day)s fewer than %(wanted)s of %(part)s had come and were left.")
            % {"day": written(on), "wanted": figure(quantity), "part": shelf.part},
            "quantity",
        ) from error
    cost = sum((piece.cost for piece in taken), Decimal(0))
    move = _move(shelf, -quantity, -cost, on=on, **entry)
    by_id = {layer.pk: layer for layer in layers}
    for piece in taken:
        _use_layer(by_id[piece.key], move, piece.quantity, piece.cost)
    return move


def _move(shelf, quantity, cost, *, reason, on, document, by, at, note="", reverses=None):
    shelf.on_hand += quantity
    shelf.save(update_fields=["on_hand"])
    return StockMove.objects.create(
        part_id=shelf.part_id, bin_id=shelf.bin_id, reason=reason, quantity=quantity, cost=cost,
        moved_on=on, document=document, reverses=reverses, note=note,
        recorded_at=at, recorded_by=by,
    )  # fmt: skip


def _add_layer(move: StockMove, unit_cost: Decimal) -> None:
    CostLayer.objects.create(
        part_id=move.part_id, move=move, unit_cost=unit_cost,
        quantity_left=move.quantity, cost_left=move.cost,
    )  # fmt: skip


def _use_layer(layer: CostLayer, move: StockMove, quantity: Decimal, cost: Decimal) -> None:
    """Take from a layer, or give back to it when the figures are negative."""
    layer.quantity_left -= quantity
    layer.cost_left -= cost
    layer.save(update_fields=["quantity_left", "cost_left"])
    LayerUse.objects.create(layer=layer, move=move, quantity=quantity, cost=cost)
