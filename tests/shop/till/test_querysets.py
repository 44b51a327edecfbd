from datetime import date
from decimal import Decimal

import pytest

from shop.till.models import LabourRate, MarkUp, TaxRate
from tests.factories.shop import LabourRateFactory, MarkUpFactory, TaxRateFactory

pytestmark = pytest.mark.django_db

JANUARY, JULY, OCTOBER = date(2026, 1, 1), date(2026, 7, 1), date(2026, 10, 5)


def percents(on):
    return [row.percent for row in TaxRate.objects.standing(on)]


def test_the_newest_rate_that_has_begun_stands():
    TaxRateFactory(percent=Decimal("6"), from_on=JANUARY)
    TaxRateFactory(percent=Decimal("6.5"), from_on=JULY)
    assert [percents(day) for day in (date(2025, 12, 31), JANUARY, date(2026, 6, 30), JULY)] == [
        [],
        [Decimal("6")],
        [Decimal("6")],
        [Decimal("6.5")],
    ]


def test_a_rate_stands_through_its_last_day_and_wakes_no_older_one():
    TaxRateFactory(percent=Decimal("6"), from_on=JANUARY)
    TaxRateFactory(percent=Decimal("6.5"), from_on=JULY, until_on=OCTOBER)
    assert percents(OCTOBER) == [Decimal("6.5")]
    assert percents(date(2026, 10, 6)) == []


def test_rates_of_other_jurisdictions_and_classes_stand_beside_each_other():
    TaxRateFactory(from_on=JANUARY)
    TaxRateFactory(line_class="machine", from_on=JULY)
    TaxRateFactory(jurisdiction="Town", from_on=JULY)
    assert len(percents(OCTOBER)) == 3


def test_rates_stand_in_the_order_of_their_positions():
    TaxRateFactory(jurisdiction="Town", position=2)
    TaxRateFactory(jurisdiction="Wide State", position=1)
    assert [row.jurisdiction for row in TaxRate.objects.standing(OCTOBER)] == [
        "Wide State",
        "Town",
    ]


def test_one_labour_rate_stands():
    LabourRateFactory(from_on=JANUARY)
    newer = LabourRateFactory(from_on=JULY)
    LabourRateFactory(from_on=date(2027, 1, 1))
    assert list(LabourRate.objects.standing(OCTOBER)) == [newer]


def test_each_step_of_the_mark_up_is_followed_on_its_own():
    MarkUpFactory(cost_from=Decimal(0), from_on=JANUARY)
    newer = MarkUpFactory(cost_from=Decimal(0), from_on=JULY)
    dear = MarkUpFactory(cost_from=Decimal(100), from_on=JANUARY)
    assert set(MarkUp.objects.standing(OCTOBER)) == {newer, dear}
