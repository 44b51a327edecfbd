"""OpenStax, Principles of Accounting, Volume 1, chapter 10 (inventory), and Barron's Dictionary
of Accounting Terms (moving average): the published worked examples, figures only."""

import uuid
from datetime import timedelta
from decimal import ROUND_HALF_UP, Decimal

import pytest

from parts.stock.domain.average import moving_average
from parts.stock.domain.fifo import Layer, cost_of, take
from parts.stock.services import issue_stock, receive_stock
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

# Section 10.3: opening and purchases with their cost for one, sales without.
RUN = [
    (Decimal(150), Decimal(21)),
    (Decimal(120), None),
    (Decimal(225), Decimal(27)),
    (Decimal(180), None),
    (Decimal(210), Decimal(33)),
]


def whole(amount):
    return amount.quantize(Decimal(1), ROUND_HALF_UP)


def test_section_10_3_first_in_first_out():
    layers, sold = [], []
    for key, (quantity, unit_cost) in enumerate(RUN):
        if unit_cost is not None:
            layers.append(Layer(key, quantity, cost_of(quantity, unit_cost)))
            continue
        taken = {piece.key: piece for piece in take(layers, quantity)}
        sold.append(sum(piece.cost for piece in taken.values()))
        gone = {key: (piece.quantity, piece.cost) for key, piece in taken.items()}
        layers = [
            Layer(at.key, at.quantity - gone[at.key][0], at.cost - gone[at.key][1])
            if at.key in gone
            else at
            for at in layers
        ]
        layers = [layer for layer in layers if layer.quantity]
    assert sold == [Decimal(2520), Decimal(4680)]
    assert [(layer.quantity, layer.cost) for layer in layers] == [
        (Decimal(75), Decimal(75 * 27)),
        (Decimal(210), Decimal(210 * 33)),
    ]
    assert sum(layer.cost for layer in layers) == Decimal(8955)


@pytest.mark.django_db
def test_section_10_3_first_in_first_out_through_the_ledger():
    part, place, by = PartFactory(), BinFactory(), PersonFactory()
    sold = Decimal(0)
    for step, (quantity, unit_cost) in enumerate(RUN):
        entry = {
            "part": part,
            "bin": place,
            "quantity": quantity,
            "on": TODAY + timedelta(days=step),
            "document": uuid.uuid4().hex[:8],
            "by": by,
            "at": MORNING,
        }
        if unit_cost is None:
            sold -= issue_stock(**entry, reason="sold").cost
        else:
            receive_stock(**entry, unit_cost=unit_cost)
    assert sold == Decimal(7200)
    assert sum(layer.cost_left for layer in part.layers.all()) == Decimal(8955)


def test_section_10_3_moving_average():
    run = moving_average(RUN)
    assert (whole(run.sold), whole(run.ending)) == (Decimal(7253), Decimal(8902))
    cents = [average.quantize(Decimal("0.01"), ROUND_HALF_UP) for average in run.averages]
    assert cents == [Decimal("21.00"), Decimal("26.29"), Decimal("31.24")]


def test_section_10_3_moving_average_loses_nothing():
    run = moving_average(RUN)
    assert run.sold + run.ending == Decimal(16155)


def test_barrons_dictionary_moving_average():
    run = moving_average(
        [
            (Decimal(100), Decimal(10)),
            (Decimal(80), Decimal(11)),
            (Decimal(90), None),
            (Decimal(70), Decimal(12)),
            (Decimal(50), None),
        ]
    )
    assert (whole(run.sold), whole(run.ending)) == (Decimal(1496), Decimal(1224))
    thousandths = [average.quantize(Decimal("0.001"), ROUND_HALF_UP) for average in run.averages]
    assert thousandths == [Decimal(10), Decimal("10.444"), Decimal("11.125")]


def test_section_10_2_periodic_average_from_the_goods_available():
    """16,155 for 585 pieces is 27.62 for one; the 300 sold cost 8,283 after rounding that."""
    received = [(quantity, cost) for quantity, cost in RUN if cost is not None]
    average = moving_average(received).averages[-1].quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert average == Decimal("27.62")
