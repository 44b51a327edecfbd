"""Lines of the ledger and the cost layers behind them, whichever way the shop costs its parts."""

from collections.abc import Sequence
from decimal import Decimal

from django.utils.translation import gettext as _

from parts.stock.domain import fifo
from parts.stock.domain.average import average_cost, least_from
from parts.stock.models import CostingChoice, CostLayer, LayerUse, Shelf, StockMove
from parts.stock.services.shelves import NotEnoughStockError
from units.show.words import day as written
from units.show.words import number as figure


def averages() -> bool:
    """Whether the shop costs by the moving average."""
    newest = CostingChoice.objects.order_by("-id").values_list("method", flat=True).first()
    return newest == CostingChoice.Method.AVERAGE


def write_move(
    shelf: Shelf, quantity: Decimal, cost: Decimal, *, reason, on, document, by, at,
    note="", reverses=None, key=None,
) -> StockMove:  # fmt: skip
    shelf.on_hand += quantity
    shelf.save(update_fields=["on_hand"])
    return StockMove.objects.create(
        part_id=shelf.part_id, bin_id=shelf.bin_id, reason=reason, quantity=quantity, cost=cost,
        moved_on=on, document=document, reverses=reverses, note=note, key=key,
        recorded_at=at, recorded_by=by,
    )  # fmt: skip


def put_in(shelf: Shelf, quantity: Decimal, cost: Decimal, unit_cost: Decimal, **entry):
    """A move onto the shelf, and its layer."""
    move = write_move(shelf, quantity, cost, **entry)
    layer = CostLayer.objects.create(
        part_id=move.part_id, move=move, unit_cost=unit_cost,
        quantity_left=quantity, cost_left=cost,
    )  # fmt: skip
    if averages():
        _pour_together(layer)
    return move


def take_out(shelf: Shelf, quantity: Decimal, *, on, **entry) -> StockMove:
    """A move off the shelf at what the oldest layers, or the average, give for it."""
    layers = _layers_come_by(shelf, quantity, on)
    try:
        taken = fifo.take(
            [fifo.Layer(layer.pk, layer.quantity_left, layer.cost_left) for layer in layers],
            quantity,
        )
    except fifo.TooFewError as error:
        raise _too_few(shelf, quantity, on) from error
    cost = sum((piece.cost for piece in taken), Decimal(0))
    move = write_move(shelf, -quantity, -cost, on=on, **entry)
    by_id = {layer.pk: layer for layer in layers}
    for piece in taken:
        _use_layer(by_id[piece.key], move, piece.quantity, piece.cost)
    return move


def give_back(taken: StockMove, back: StockMove) -> None:
    """Fill the layers again that ``taken`` took from; by the average, the one that there is."""
    if averages():
        newest = CostLayer.objects.filter(part=back.part_id).order_by("-pk")[0]
        _use_layer(newest, back, -back.quantity, -back.cost)
        _set_average(newest)
        return
    for use in taken.layer_uses.select_related("layer").order_by("layer_id"):
        _use_layer(use.layer, back, -use.quantity, -use.cost)


def newest_unit_cost(part) -> Decimal:
    """What one of the newest delivery cost, or the average; nothing for a part that never came."""
    layers = CostLayer.objects.filter(part=part)
    layer = layers.order_by("pk").last() if averages() else layers.oldest_first().last()
    return layer.unit_cost if layer else Decimal(0)


def _layers_come_by(shelf: Shelf, quantity: Decimal, on) -> Sequence[CostLayer]:
    """The layers to take from. What was given back fills a layer that had come earlier, so that
    the layers alone do not tell whether on each day so many lay there."""
    layers = CostLayer.objects.select_for_update(of=("self",)).filter(part=shelf.part_id)
    layers = layers.not_empty().oldest_first()
    moves = StockMove.objects.filter(part=shelf.part_id).order_by()
    if least_from(moves.values_list("moved_on", "quantity"), on) < quantity:
        raise _too_few(shelf, quantity, on)
    return list(layers if averages() else layers.come_by(on))


def _too_few(shelf: Shelf, quantity: Decimal, on) -> NotEnoughStockError:
    return NotEnoughStockError(
        _("On %(day)s fewer than %(wanted)s of %(part)s had come and were left.")
        % {"day": written(on), "wanted": figure(quantity), "part": shelf.part},
        "quantity",
    )


def _pour_together(layer: CostLayer) -> None:
    """Move what older layers still hold into this one, so that all of it costs the same."""
    quantity = cost = Decimal(0)
    older = CostLayer.objects.filter(part=layer.part_id).not_empty().exclude(pk=layer.pk)
    for old in older.select_for_update(of=("self",)):
        quantity, cost = quantity + old.quantity_left, cost + old.cost_left
        _use_layer(old, layer.move, old.quantity_left, old.cost_left)
    if quantity:
        _use_layer(layer, layer.move, -quantity, -cost)
        _set_average(layer)


def _set_average(layer: CostLayer) -> None:
    layer.unit_cost = average_cost(layer.quantity_left, layer.cost_left)
    layer.save(update_fields=["unit_cost"])


def _use_layer(layer: CostLayer, move: StockMove, quantity: Decimal, cost: Decimal) -> None:
    """Take from a layer, or give to it when the figures are negative."""
    layer.quantity_left -= quantity
    layer.cost_left -= cost
    layer.save(update_fields=["quantity_left", "cost_left"])
    LayerUse.objects.create(layer=layer, move=move, quantity=quantity, cost=cost)
