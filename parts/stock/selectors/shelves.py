from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from django.db.models import OuterRef, Prefetch, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from parts.fits.models import Part
from parts.stock.models import CostLayer, Shelf, StockMove
from units.rows.fields import MoneyField, QuantityField

USED = (StockMove.Reason.USED, StockMove.Reason.SOLD)


def on_hand(parts) -> dict[int, Decimal]:
    """``{part id: pieces on the shelf}``, nought for a part that has none. One query."""
    parts = list(parts)
    sums = Shelf.objects.filter(part__in=parts).order_by().values_list("part")
    found = dict(sums.annotate(Sum("on_hand")))
    return {part.pk: found.get(part.pk, Decimal(0)) for part in parts}


def oldest_layers(parts) -> dict[int, CostLayer]:
    """``{part id: the layer that the next piece comes from}`` of parts on hand. One query."""
    layers = CostLayer.objects.filter(part__in=list(parts)).not_empty().select_related("move")
    found = {}
    for layer in layers.oldest_first():
        found.setdefault(layer.part_id, layer)
    return found


def next_unit_costs(parts) -> dict[int, Decimal]:
    """``{part id: cost for one of the oldest layer}`` of parts on hand. One query."""
    return {part: layer.unit_cost for part, layer in oldest_layers(parts).items()}


def newest_move_id(part) -> int:
    """Of the newest move of a part, nought before the first: whoever counts begins here."""
    newest = StockMove.objects.filter(part=part).order_by("-id").values_list("id", flat=True)
    return newest.first() or 0


def parts_on_shelf() -> QuerySet[Part]:
    """Parts on hand with ``on_hand``, ``worth`` and their filled shelves as ``places``."""
    filled = Shelf.objects.filter(on_hand__gt=0)
    shelves = filled.filter(part=OuterRef("pk")).order_by().values("part")
    layers = CostLayer.objects.not_empty().filter(part=OuterRef("pk")).order_by().values("part")
    worth = Subquery(layers.annotate(sum=Sum("cost_left")).values("sum"))
    places = Prefetch(
        "shelves", filled.select_related("bin").order_by("bin__name"), to_attr="places"
    )
    return (
        Part.objects.filter(pk__in=filled.order_by().values("part"))
        .annotate(
            on_hand=Subquery(
                shelves.annotate(sum=Sum("on_hand")).values("sum"), output_field=QuantityField()
            ),
            worth=Coalesce(worth, 0, output_field=MoneyField()),
        )
        .select_related("maker", "component")
        .prefetch_related(places)
    )


def moves_of(part) -> QuerySet[StockMove]:
    """The ledger of one part, the newest line first."""
    moves = StockMove.objects.filter(part=part).select_related("bin", "recorded_by")
    return moves.order_by("-moved_on", "-id")


def layers_of(part) -> list[CostLayer]:
    """What the next pieces cost, the next to go first. One query."""
    layers = CostLayer.objects.filter(part=part).not_empty().select_related("move")
    return list(layers.oldest_first())


def daily_use(
    parts: Iterable[Part] | None, since: date, until: date
) -> dict[int, dict[date, Decimal]]:
    """``{part id: {day: how many were used or sold}}`` from ``since`` through ``until``.

    ``None`` asks for every part. What was put back counts as never taken. One query.
    """
    moves = StockMove.objects.filter(
        reason__in=USED, moved_on__gte=since, moved_on__lte=until, reversed_by=None
    )
    if parts is not None:
        moves = moves.filter(part__in=list(parts))
    days = moves.order_by().values_list("part", "moved_on").annotate(Sum("quantity"))
    found: dict[int, dict[date, Decimal]] = defaultdict(dict)
    for part, day, quantity in days:
        found[part][day] = -quantity
    return dict(found)


def shelf_worth() -> Decimal:
    """What lies on the shelf cost. One query."""
    return CostLayer.objects.not_empty().aggregate(sum=Sum("cost_left"))["sum"] or Decimal(0)


def bins_of(part) -> list[Shelf]:
    """Where a part lies or once lay, by the name of the bin."""
    return list(Shelf.objects.filter(part=part).select_related("bin").order_by("bin__name"))
