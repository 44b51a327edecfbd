"""OpenStax, Principles of Accounting, Volume 1, chapter 10 (inventory), and Barron's Dictionary
of Accounting Terms (moving average): the published worked examples, figures only."""

from datetime import timedelta
from decimal import ROUND_HALF_UP, Decimal

import pytest

from parts.stock.domain.fifo import Layer, cost_of, take
from parts.stock.selectors import next_unit_costs
from parts.stock.services import choose_costing, issue_stock, receive_stock
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


class Ledger:
    """One part in the database, to which the published events happen, one a day."""

    def __init__(self, method="fifo"):
        self.part, self.place, self.by = PartFactory(), BinFactory(), PersonFactory()
        self.day, self.sold, self.averages = TODAY, Decimal(0), []
        if method == "average":
            choose_costing(method=method, reason="the example", by=self.by, at=MORNING)

    def run(self, events):
        for quantity, unit_cost in events:
            entry = {"quantity": quantity, "on": self.day, "document": "D00001"}
            entry |= {"part": self.part, "bin": self.place, "by": self.by, "at": MORNING}
            if unit_cost is None:
                self.sold -= issue_stock(**entry, reason="sold").cost
            else:
                receive_stock(**entry, unit_cost=unit_cost)
                self.averages.append(next_unit_costs([self.part])[self.part.pk])
            self.day += timedelta(days=1)
        return self

    @property
    def ending(self):
        return sum(layer.cost_left for layer in self.part.layers.all())


@pytest.mark.django_db
def test_section_10_3_first_in_first_out_through_the_ledger():
    ledger = Ledger().run(RUN)
    assert (ledger.sold, ledger.ending) == (Decimal(7200), Decimal(8955))


@pytest.mark.django_db
def test_section_10_3_moving_average_through_the_ledger():
    ledger = Ledger("average").run(RUN)
    assert (ledger.sold, ledger.ending) == (Decimal("7252.94"), Decimal("8902.06"))
    assert (whole(ledger.sold), whole(ledger.ending)) == (Decimal(7253), Decimal(8902))
    cents = [average.quantize(Decimal("0.01"), ROUND_HALF_UP) for average in ledger.averages]
    assert cents == [Decimal("21.00"), Decimal("26.29"), Decimal("31.24")]


@pytest.mark.django_db
@pytest.mark.parametrize("method", ["fifo", "average"])
def test_section_10_3_opening_and_purchases_are_what_was_sold_and_what_is_left(method):
    ledger = Ledger(method).run(RUN)
    assert ledger.sold + ledger.ending == Decimal(16155)


@pytest.mark.django_db
def test_barrons_dictionary_moving_average_through_the_ledger():
    ledger = Ledger("average").run(
        [
            (Decimal(100), Decimal(10)),
            (Decimal(80), Decimal(11)),
            (Decimal(90), None),
            (Decimal(70), Decimal(12)),
            (Decimal(50), None),
        ]
    )
    assert (whole(ledger.sold), whole(ledger.ending)) == (Decimal(1496), Decimal(1224))
    thousandths = [average.quantize(Decimal("0.001"), ROUND_HALF_UP) for average in ledger.averages]
    assert thousandths == [Decimal(10), Decimal("10.444"), Decimal("11.125")]


@pytest.mark.django_db
def test_section_10_2_periodic_average_from_the_goods_available():
    """16,155 for 585 pieces is 27.62 for one; all of them received before anything is sold."""
    ledger = Ledger("average").run([event for event in RUN if event[1] is not None])
    assert ledger.averages[-1].quantize(Decimal("0.01"), ROUND_HALF_UP) == Decimal("27.62")
