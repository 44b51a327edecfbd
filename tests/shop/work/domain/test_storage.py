from datetime import date, timedelta
from decimal import Decimal

import pytest

from shop.work.domain.storage import charged_from, storage_charge, storage_days

NOTICE = date(2026, 10, 5)


@pytest.mark.parametrize(("after", "days"), [(0, 0), (30, 0), (31, 1), (40, 10)])
def test_storage_counts_the_days_after_its_notice_ran_out(after, days):
    """Common practice, no published source; the day of collection is free."""
    from_on = charged_from(NOTICE, 30)
    assert storage_days(from_on, NOTICE + timedelta(after)) == days
    assert storage_charge(from_on, Decimal("2.50"), NOTICE + timedelta(after)) == days * Decimal(
        "2.50"
    )


def test_without_a_notice_nothing_is_charged():
    assert storage_charge(None, Decimal(5), NOTICE) == 0
