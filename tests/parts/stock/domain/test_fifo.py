from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.stock.domain.fifo import Layer, Taken, TooFewError, cost_of, take


@pytest.mark.parametrize(
    ("quantity", "unit_cost", "cost"),
    [
        (Decimal(3), Decimal("1.25"), Decimal("3.75")),
        (Decimal(1), Decimal("0.004999"), Decimal("0.00")),
        (Decimal(1), Decimal("0.005"), Decimal("0.01")),
        (Decimal(3), Decimal("0.333333"), Decimal("1.00")),
        (Decimal("0.5"), Decimal("0.01"), Decimal("0.01")),
    ],
)
def test_a_delivery_costs_its_quantity_rounded_once_half_up(quantity, unit_cost, cost):
    assert cost_of(quantity, unit_cost) == cost


def test_the_oldest_layer_gives_first_and_the_next_gives_the_rest():
    layers = [
        Layer(1, Decimal(2), Decimal(20)),
        Layer(2, Decimal(5), Decimal(60)),
        Layer(3, Decimal(1), Decimal(9)),
    ]
    assert take(layers, Decimal(4)) == [
        Taken(1, Decimal(2), Decimal(20)),
        Taken(2, Decimal(2), Decimal(24)),
    ]


def test_the_last_piece_of_a_layer_takes_the_cents_that_remain():
    left, costs = Layer(1, Decimal(3), Decimal("1.00")), []
    for _ in range(3):
        (taken,) = take([left], Decimal(1))
        costs.append(taken.cost)
        left = Layer(1, left.quantity - 1, left.cost - taken.cost)
    assert costs == [Decimal("0.33"), Decimal("0.34"), Decimal("0.33")]
    assert left == Layer(1, Decimal(0), Decimal(0))


def test_more_than_there_is_cannot_be_taken():
    with pytest.raises(TooFewError, match="3 of 4"):
        take([Layer(1, Decimal(1), Decimal(1)), Layer(2, Decimal(2), Decimal(2))], Decimal(4))


def test_from_nothing_nothing_can_be_taken():
    with pytest.raises(TooFewError, match="0 of 1"):
        take([], Decimal(1))


thousandths = st.integers(1, 50_000).map(lambda steps: Decimal(steps) / 1000)
cents = st.integers(0, 500_000).map(lambda steps: Decimal(steps) / 100)
layers = st.lists(st.tuples(thousandths, cents), min_size=1, max_size=6).map(
    lambda rows: [Layer(key, *row) for key, row in enumerate(rows)]
)


@given(layers, st.lists(thousandths, max_size=12))
def test_pieces_and_cents_that_went_in_went_out_or_are_on_hand(start, wanted):
    on_hand, out, out_cost = list(start), Decimal(0), Decimal(0)
    for quantity in wanted:
        try:
            taken = {piece.key: piece for piece in take(on_hand, quantity)}
        except TooFewError:
            assert sum(layer.quantity for layer in on_hand) < quantity
            continue
        out += sum(piece.quantity for piece in taken.values())
        out_cost += sum(piece.cost for piece in taken.values())
        on_hand = [_less(layer, taken.get(layer.key)) for layer in on_hand]
        on_hand = [layer for layer in on_hand if layer.quantity or layer.cost]
    assert sum(layer.quantity for layer in start) == out + sum(each.quantity for each in on_hand)
    assert sum(layer.cost for layer in start) == out_cost + sum(each.cost for each in on_hand)
    assert all(layer.quantity > 0 and layer.cost >= 0 for layer in on_hand)


def _less(layer, piece):
    if piece is None:
        return layer
    return Layer(layer.key, layer.quantity - piece.quantity, layer.cost - piece.cost)
