from datetime import timedelta

import pytest

from tests.factories.units import TODAY, RecallCheckFactory, UnitFactory
from units.recalls.selectors import newest_checks

pytestmark = pytest.mark.django_db


def test_check_of_the_latest_day_counts_whenever_it_was_written_down():
    check = RecallCheckFactory()
    RecallCheckFactory(unit=check.unit, checked_on=TODAY - timedelta(days=9), outcome="fits")
    assert newest_checks([check.unit]) == {check.unit_id: check}


def test_later_record_of_the_same_day_counts():
    check = RecallCheckFactory()
    second = RecallCheckFactory(unit=check.unit, outcome="fits")
    assert newest_checks([check.unit]) == {check.unit_id: second}


def test_machine_never_checked_is_absent():
    assert newest_checks([UnitFactory()]) == {}


def test_checks_of_many_machines_take_one_query(django_assert_num_queries):
    units = [RecallCheckFactory().unit for _ in range(5)]
    with django_assert_num_queries(1):
        checks = newest_checks(units)
        assert len([str(check.recorded_by) for check in checks.values()]) == 5
