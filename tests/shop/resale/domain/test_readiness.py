"""The retail exit. Common practice, no published source; days are shop defaults."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.resale.domain.readiness import RECALL_CHECK_DAYS, RETAIL, Facts, gaps

TODAY = date(2026, 10, 5)
MORNING = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)
LATER = MORNING + timedelta(hours=2)
READY = Facts(
    on=TODAY,
    plate_confirmed=True,
    recall_outcome="none",
    recall_checked_on=TODAY,
    inspected_at=MORNING,
    tested_at=LATER,
    test_passed=True,
    worked_at=MORNING,
    support="supported",
    support_fresh=True,
    has_safety_key=True,
    safety_key_present=True,
    graded=True,
    cleaned=True,
    sale_photos=1,
    plugged_in=True,
    supply_known=True,
    price=Decimal("900.00"),
    floor=Decimal("900.00"),
)
OLD = TODAY - timedelta(days=RECALL_CHECK_DAYS + 1)


def keys(facts):
    return [gap.key for gap in gaps(facts)]


def test_a_machine_that_meets_everything_is_ready():
    assert keys(READY) == []


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"plate_confirmed": False}, "plate"),
        ({"recall_outcome": "", "recall_checked_on": None}, "recall-unread"),
        ({"recall_outcome": "fits"}, "recall-fits"),
        ({"recall_outcome": "unsure"}, "recall-unsure"),
        ({"recall_checked_on": OLD}, "recall-old"),
        ({"inspected_at": None}, "inspection"),
        ({"open_job": "J00001"}, "open-job"),
        ({"standing": ("deck",)}, "findings"),
        ({"tested_at": None, "test_passed": False}, "test"),
        ({"test_passed": False}, "test-failed"),
        ({"worked_at": LATER + timedelta(seconds=1)}, "test-old"),
        ({"support": "not-asked"}, "support"),
        ({"support": "no-answer"}, "support"),
        ({"support_fresh": False}, "support-stale"),
        ({"recalls_open": ("26645",)}, "recall-open"),
        ({"recalls_confirmed": ("26645",)}, "recall-confirmed"),
        ({"supply_known": False}, "supply"),
        ({"graded": False}, "grading"),
        ({"cleaned": False}, "cleaned"),
        ({"safety_key_present": False}, "safety-key"),
        ({"sale_photos": 0}, "photo"),
        ({"price": None, "floor": None}, "price"),
        ({"price": Decimal("899.99")}, "price-below"),
    ],
)
def test_each_condition_alone_keeps_a_machine_from_sale(change, key):
    assert keys(replace(READY, **change)) == [key]


def test_every_condition_of_the_table_can_fail():
    nothing_known = {gap for condition in RETAIL for gap in [condition.key]}
    seen = set(keys(Facts(on=TODAY)))
    seen |= set(keys(replace(READY, recall_outcome="fits", open_job="J1", standing=("deck",))))
    seen |= set(keys(replace(READY, recall_outcome="unsure", test_passed=False, cleaned=False)))
    seen |= set(keys(replace(READY, recall_checked_on=OLD, worked_at=LATER + timedelta(days=1))))
    seen |= set(keys(replace(READY, support_fresh=False, supply_known=False, price=Decimal(1))))
    seen |= set(keys(replace(READY, safety_key_present=False)))
    seen |= set(keys(replace(READY, recalls_open=("1",), recalls_confirmed=("2",))))
    assert seen == nothing_known


@pytest.mark.parametrize(
    "change",
    [
        {"has_safety_key": False, "safety_key_present": False},
        {"plugged_in": False, "supply_known": False},
        {"worked_at": None},
        {"worked_at": LATER},
        {"recall_checked_on": TODAY - timedelta(days=RECALL_CHECK_DAYS)},
        {"price": Decimal("1.00"), "price_reason": "scratched frame"},
        {"support": "limited"},
        {"support": "ended"},
    ],
)
def test_what_does_not_apply_or_is_disclosed_keeps_nothing_back(change):
    assert keys(replace(READY, **change)) == []


def test_a_recall_that_fits_stands_however_old_the_check():
    assert keys(replace(READY, recall_outcome="fits", recall_checked_on=OLD)) == ["recall-fits"]


def test_a_gap_carries_the_names_that_its_sentence_speaks_of():
    (gap,) = gaps(replace(READY, standing=("deck", "running belt")))
    assert gap.names == ("deck", "running belt")


@given(st.integers(0, 400))
def test_a_check_of_recalls_never_becomes_younger(days):
    older = replace(READY, recall_checked_on=TODAY - timedelta(days=days))
    oldest = replace(READY, recall_checked_on=TODAY - timedelta(days=days + 1))
    assert set(keys(older)) <= set(keys(oldest))
