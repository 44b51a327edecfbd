"""For how long an answer counts, on the days before and after somebody changed it."""

from datetime import timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from parts.answers.domain.support import Freshness
from parts.answers.models import FreshnessChange, FreshnessRule
from parts.answers.selectors import freshness_rules, newest_prices, rules_and_mark, support_of
from parts.answers.services import set_freshness
from tests.factories.parts import AnswerFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db


def ago(days):
    return TODAY - timedelta(days=days)


@pytest.fixture(autouse=True)
def phone():
    FreshnessRule.objects.create(channel="listing", days=60, back_order_days=30)
    return FreshnessRule.objects.create(channel="phone", days=180, back_order_days=30)


def change(days_ago, days, back_order_days=30, channel="phone"):
    at = MORNING - timedelta(days=days_ago)
    said = {"channel": channel, "days": days, "back_order_days": back_order_days}
    return set_freshness(**said, by=PersonFactory(), at=at)


def phoned(on, known_at=None):
    rule = freshness_rules(on, known_at)["phone"]
    return rule.days, rule.back_order_days


def test_each_day_has_the_rule_that_stood_that_evening():
    change(100, 90)
    change(50, None, 10)
    change(10, 120, None)
    told = {days: phoned(ago(days)) for days in (101, 100, 51, 50, 11, 10, 0)}
    assert told == {
        101: (180, 30),
        100: (90, 30),
        51: (90, 30),
        50: (None, 10),
        11: (None, 10),
        10: (120, None),
        0: (120, None),
    }


def test_of_two_changes_on_one_day_the_later_stands_and_the_first_tells_what_was_before():
    change(5, 90)
    change(5, 60)
    assert (phoned(ago(5)), phoned(ago(6))) == ((60, 30), (180, 30))


def test_by_what_was_known_earlier_a_change_had_not_been_made():
    change(50, 90)
    assert phoned(TODAY) == (90, 30)
    assert phoned(TODAY, MORNING - timedelta(days=60)) == (180, 30)


def test_a_change_of_one_channel_leaves_the_others_and_those_without_a_rule():
    change(50, 90)
    rules = freshness_rules(ago(60))
    assert rules["listing"] == Freshness(60, 30)
    assert rules["mail"] == Freshness(0, 0)


def test_what_was_fresh_on_a_past_day_stays_so_when_the_rule_is_cut_today():
    answer = AnswerFactory(given_on=ago(100))
    model = answer.model
    before = support_of([model], ago(1))[model.pk]
    change(0, 30)
    assert support_of([model], ago(1))[model.pk] == before
    assert before.fresh
    assert not support_of([model], TODAY)[model.pk].fresh


def test_a_price_is_fresh_by_the_rule_of_the_day_asked_about():
    price = SupplierPriceFactory(given_on=ago(40))
    change(0, 30, channel="listing")
    assert newest_prices([price.part], ago(1))[price.part_id].fresh
    assert not newest_prices([price.part], TODAY)[price.part_id].fresh


def test_saying_the_same_again_is_no_change():
    change(5, 180)
    assert not FreshnessChange.objects.exists()


def test_rules_of_any_day_take_one_query(django_assert_num_queries):
    change(50, 90)
    change(40, 60)
    with django_assert_num_queries(1):
        freshness_rules(ago(45))
    with django_assert_num_queries(1):
        rules_and_mark(ago(45))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)
@given(st.lists(st.tuples(st.integers(1, 60), st.none() | st.integers(0, 300)), max_size=5))
def test_a_change_made_today_never_changes_the_rules_of_yesterday(phone, changes):
    with transaction.atomic():
        for days_ago, days in sorted(changes, key=lambda one: -one[0]):
            change(days_ago, days)
        yesterday = [phoned(ago(days)) for days in range(1, 70, 7)]
        change(0, 777, 7)
        assert [phoned(ago(days)) for days in range(1, 70, 7)] == yesterday
        assert phoned(TODAY) == (777, 7)
        transaction.set_rollback(True)
