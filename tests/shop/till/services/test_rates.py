from datetime import date
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.till.models import LabourRate, MarkUp, TaxRate
from shop.till.services import TillError, add_labour_rate, add_mark_up, add_tax_rate
from tests.factories.units import TODAY

pytestmark = pytest.mark.django_db


def tax(jurisdiction="State", classes=("part",), percent="6.875", **days):
    return add_tax_rate(
        jurisdiction=jurisdiction,
        line_classes=classes,
        percent=Decimal(percent),
        **{"from_on": TODAY} | days,
    )


def test_a_tax_rate_is_added_for_each_class_named():
    tax(" State ", ["part", "machine"])
    assert set(TaxRate.objects.values_list("jurisdiction", "line_class")) == {
        ("State", "part"),
        ("State", "machine"),
    }


def test_a_rate_for_the_same_day_replaces_the_mistyped_one():
    tax(percent="68.75")
    tax(percent="6.875")
    assert TaxRate.objects.get().percent == Decimal("6.875")


def test_jurisdictions_keep_the_order_in_which_they_came():
    tax("State")
    tax("Apple County")
    tax("State", percent="7", from_on=date(2027, 1, 1))
    assert list(TaxRate.objects.values_list("jurisdiction", "position")) == [
        ("State", 1),
        ("State", 1),
        ("Apple County", 2),
    ]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"jurisdiction": "  "}, "Name the state"),
        ({"percent": "-1"}, "between 0 and 100"),
        ({"percent": "100.5"}, "between 0 and 100"),
        ({"until_on": date(2026, 10, 4)}, "before the first"),
    ],
)
def test_a_tax_rate_that_makes_no_sense_is_refused(changes, sentence):
    with pytest.raises(TillError, match=sentence):
        tax(**changes)
    assert not TaxRate.objects.exists()


def test_a_labour_rate_for_the_same_day_replaces_the_first():
    for price in ("80", "85"):
        add_labour_rate(price_per_hour=Decimal(price), cost_per_hour=Decimal("30"), from_on=TODAY)
    assert LabourRate.objects.get().price_per_hour == Decimal("85")


def test_a_labour_rate_below_nothing_is_refused():
    with pytest.raises(TillError, match="less than nothing"):
        add_labour_rate(price_per_hour=Decimal("-1"), cost_per_hour=Decimal("30"), from_on=TODAY)


def test_a_mark_up_for_the_same_step_and_day_replaces_the_first():
    for factor in ("1.5", "1.6"):
        add_mark_up(cost_from=Decimal(0), factor=Decimal(factor), from_on=TODAY)
    assert MarkUp.objects.get().factor == Decimal("1.6")


@pytest.mark.parametrize(("cost", "factor"), [("-1", "1.5"), ("0", "0")])
def test_a_mark_up_that_makes_no_sense_is_refused(cost, factor):
    with pytest.raises(TillError, match="factor above 0"):
        add_mark_up(cost_from=Decimal(cost), factor=Decimal(factor), from_on=TODAY)


@pytest.mark.parametrize(("cost_from", "factor"), [("0", "0"), ("0", "-1.5"), ("-1", "1.5")])
def test_no_mark_up_is_kept_that_makes_no_price(cost_from, factor):
    with pytest.raises(IntegrityError), transaction.atomic():
        MarkUp.objects.create(cost_from=Decimal(cost_from), factor=Decimal(factor), from_on=TODAY)


@pytest.mark.parametrize(("price", "cost"), [("-1", "30"), ("80", "-1")])
def test_no_hour_is_kept_that_costs_less_than_nothing(price, cost):
    with pytest.raises(IntegrityError), transaction.atomic():
        LabourRate.objects.create(
            price_per_hour=Decimal(price), cost_per_hour=Decimal(cost), from_on=TODAY
        )
