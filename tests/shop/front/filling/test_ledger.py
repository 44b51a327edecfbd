from decimal import Decimal

from django.db.models import F, Sum

from parts.stock.models import CostLayer, LayerUse, Shelf, StockMove
from shop.front.filling.fill import fill


def total(rows, field) -> Decimal:
    return rows.aggregate(total=Sum(field))["total"]


def test_what_came_in_is_what_went_out_and_what_is_on_hand(filled):
    moves = StockMove.objects.all()
    assert total(moves, "quantity") == total(CostLayer.objects.all(), "quantity_left")
    assert total(moves, "quantity") == total(Shelf.objects.all(), "on_hand")
    assert total(moves, "cost") == total(CostLayer.objects.all(), "cost_left")


def test_each_issue_is_made_of_what_it_took_from_layers(filled):
    issues = StockMove.objects.filter(quantity__lt=0)
    odd = issues.annotate(taken=Sum("layer_uses__quantity"), paid=Sum("layer_uses__cost")).exclude(
        quantity=-F("taken"), cost=-F("paid")
    )
    assert issues.exists()
    assert not odd.exists()


def test_no_part_was_ever_below_zero(filled):
    for shelf in Shelf.objects.all():
        held = Decimal(0)
        for move in shelf.part.moves.all():
            held += move.quantity
            assert held >= 0


def test_the_oldest_layer_is_taken_first(filled):
    for use in LayerUse.objects.select_related("layer__move", "move"):
        older = CostLayer.objects.filter(part=use.layer.part_id, move_id__lt=use.layer.move_id)
        later = LayerUse.objects.filter(layer__in=older, move_id__gt=use.move_id)
        assert not later.exists()


def test_no_move_is_made_where_none_was_asked_for(empty_ledger):
    fill(empty_ledger)
    assert not StockMove.objects.exists()
