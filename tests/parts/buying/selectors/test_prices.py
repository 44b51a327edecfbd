from datetime import timedelta
from decimal import Decimal

import pytest

from parts.answers.services import withdraw_answer
from parts.buying.selectors import PartCost, expected_costs, prices
from parts.stock.services import issue_stock, receive_stock
from tests.factories.parts import AnswerFactory, BinFactory, PartFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
EARLIER, LATER = TODAY - timedelta(days=9), TODAY + timedelta(days=9)


def receive(part, cost):
    return receive_stock(
        part=part,
        bin=BinFactory(),
        quantity=Decimal(1),
        unit_cost=Decimal(cost),
        on=EARLIER,
        document="D00001",
        by=PersonFactory(),
        at=MORNING,
    )


def test_a_part_on_the_shelf_costs_what_its_oldest_layer_did_and_is_here():
    part = SupplierPriceFactory(cost=Decimal(99)).part
    receive(part, "10")
    assert expected_costs([part], TODAY) == {part.pk: PartCost(Decimal(10), 0, "shelf", EARLIER)}


def test_a_part_not_on_the_shelf_costs_what_a_supplier_asked_last():
    part = PartFactory()
    SupplierPriceFactory(part=part, cost=Decimal(70), given_on=EARLIER)
    SupplierPriceFactory(part=part, cost=Decimal(80), given_on=TODAY)
    SupplierPriceFactory(part=part, cost=Decimal(90), given_on=LATER)
    assert expected_costs([part], TODAY) == {part.pk: PartCost(Decimal(80), 5, "supplier", TODAY)}


def test_an_empty_shelf_falls_back_on_the_supplier():
    part = SupplierPriceFactory(cost=Decimal(80)).part
    receive(part, "10")
    issue_stock(
        part=part, quantity=Decimal(1), reason="sold", on=TODAY, document="R00001",
        by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    assert expected_costs([part], TODAY)[part.pk].source == "supplier"


def test_the_time_to_come_is_the_last_that_the_same_supplier_named():
    part = PartFactory()
    SupplierPriceFactory(part=part, lead_days=12, given_on=EARLIER)
    SupplierPriceFactory(part=part, lead_days=2, given_on=EARLIER, party="Another", cost=90)
    SupplierPriceFactory(part=part, lead_days=None, given_on=TODAY)
    assert expected_costs([part], TODAY)[part.pk].lead_days == 12


def test_what_nobody_priced_is_left_out():
    assert expected_costs([PartFactory()], TODAY) == {}


def test_of_two_suppliers_the_one_that_asks_less_is_expected():
    part = SupplierPriceFactory(cost=Decimal(80)).part
    SupplierPriceFactory(part=part, cost=Decimal(70), party="Another")
    assert expected_costs([part], TODAY)[part.pk].unit_cost == Decimal(70)


def test_a_makers_answer_and_a_withdrawn_one_are_no_prices():
    asked = SupplierPriceFactory()
    AnswerFactory(model=None, part=asked.part, cost=Decimal(5))
    wrong = SupplierPriceFactory()
    withdraw_answer(answer=wrong, reason="misheard", by=PersonFactory(), at=MORNING)
    assert list(prices()) == [asked]


def test_costs_need_four_queries_for_many_parts(django_assert_num_queries):
    parts = [SupplierPriceFactory(lead_days=index or None).part for index in range(6)]
    for part in parts[:3]:
        receive(part, "1")
    with django_assert_num_queries(4):
        assert len(expected_costs(parts, TODAY)) == 6
