from datetime import timedelta
from decimal import Decimal
from urllib.parse import parse_qs

import pytest

from parts.buying.domain.reorder import Demand
from parts.buying.selectors import below_reorder_point, proposed_orders, shortages
from parts.stock.services import issue_stock, receive_stock, return_stock
from tests.factories.parts import BinFactory, PartFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.parts.buying.purchase import an_order, take_in

pytestmark = pytest.mark.django_db
D = Decimal


def receive(part, quantity, on=TODAY - timedelta(days=90)):
    return receive_stock(
        part=part, bin=BinFactory(), quantity=D(quantity), unit_cost=D(1), on=on,
        document="D00001", by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def use(part, quantity, days_ago):
    return issue_stock(
        part=part, quantity=D(quantity), reason="used", on=TODAY - timedelta(days=days_ago),
        document="J00001", by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def test_what_lies_here_or_is_on_order_is_not_short():
    part, other = PartFactory(), PartFactory()
    receive(part, "1")
    an_order("1", part=part)
    demands = [Demand(part, D(3), "J00001", TODAY), Demand(other, D(1), "J00002", TODAY)]
    assert shortages(demands, TODAY) == [
        Demand(part, D(1), "J00001", TODAY),
        Demand(other, D(1), "J00002", TODAY),
    ]


def test_what_was_ordered_for_a_job_is_for_that_job():
    part = PartFactory()
    an_order("1", part=part, demand="J00002")
    demands = [Demand(part, D(1), "J00001", TODAY), Demand(part, D(1), "J00002", TODAY)]
    assert [one.key for one in shortages(demands, TODAY)] == ["J00001"]


def test_once_it_came_the_job_waits_no_more():
    part = PartFactory()
    order = an_order("1", part=part, demand="J00001")
    take_in(order, "1")
    assert shortages([Demand(part, D(1), "J00001", TODAY)], TODAY) == []


def test_nothing_wanted_is_nothing_short():
    assert shortages([], TODAY) == []


def test_shortages_need_two_queries(django_assert_num_queries):
    parts = [PartFactory() for _ in range(5)]
    an_order("1", part=parts[0])
    with django_assert_num_queries(2):
        assert len(shortages([Demand(part, D(2), "J00001") for part in parts], TODAY)) == 5


def test_shortages_are_proposed_by_the_supplier_that_asks_least():
    dear = SupplierPriceFactory(cost=D(80), party="Another")
    cheap = SupplierPriceFactory(part=dear.part, cost=D(70), lead_days=3)
    unpriced = PartFactory()
    short = [Demand(unpriced, D(1), "J00001"), Demand(dear.part, D(2), "J00002")]
    first, last = proposed_orders(short, TODAY)
    (line,) = first.lines
    assert (first.supplier, line.unit_cost, line.lead_days) == (cheap.party, D(70), 3)
    assert (last.supplier, last.lines[0].part, last.lines[0].unit_cost) == ("", unpriced, None)


def test_a_proposed_order_is_an_address_that_fills_the_form():
    part = SupplierPriceFactory().part
    (group,) = proposed_orders([Demand(part, D("2.5"), "J00002")], TODAY)
    assert parse_qs(group.query) == {
        "supplier": ["Corvane parts desk"], "want": [f"{part.pk}:2.5:J00002"],
    }  # fmt: skip


def a_used_part(lead_days=20, held="40"):
    """Ten pieces on each of three days of the last year, then ten left."""
    part = SupplierPriceFactory(lead_days=lead_days).part
    receive(part, held)
    for days_ago in (60, 40, 20):
        use(part, "10", days_ago)
    return part


def test_a_part_that_will_run_out_before_it_could_come_is_wanted():
    # 30 in 365 days is 1.64 in 20 days; the deviation of a day is 0.905, times the root of 20,
    # times 1.645 is 6.66: the point is 8.30, whole pieces 9, and 4 are left.
    part = a_used_part(held="34")
    ((line,),) = (group.lines for group in below_reorder_point(TODAY))
    assert line.part == part
    assert line.point == 9
    assert line.quantity == D(5)


def test_what_is_on_order_counts_as_being_here():
    part = a_used_part(held="34")
    an_order("5", part=part)
    assert below_reorder_point(TODAY) == []


def test_a_part_that_lasts_is_not_wanted():
    a_used_part(held="40")
    assert below_reorder_point(TODAY) == []


def test_a_part_of_which_nobody_knows_how_long_it_takes_is_not_wanted():
    a_used_part(lead_days=None, held="34")
    assert below_reorder_point(TODAY) == []


def test_what_was_put_back_was_not_used():
    part = SupplierPriceFactory(lead_days=20).part
    receive(part, "30")
    for days_ago in (60, 40, 20):
        move = use(part, "10", days_ago)
    return_stock(move=move, on=move.moved_on, by=PersonFactory(), at=MORNING)
    use(part, "10", 1)
    found = below_reorder_point(TODAY)
    return_stock(move=part.moves.get(moved_on=TODAY - timedelta(days=1)), on=TODAY,
                 by=PersonFactory(), at=MORNING)  # fmt: skip
    assert len(found) == 1
    assert below_reorder_point(TODAY) == []
