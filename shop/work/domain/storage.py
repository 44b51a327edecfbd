"""What a finished machine that nobody collects costs a day, as its notice said.

Source: common practice, no published source. Whether storage may be charged at all, how much and
after which notice, is local law.
"""

from datetime import date, timedelta
from decimal import Decimal


def charged_from(given_on: date, days_free: int) -> date:
    """The first day that is charged: so many days after the notice."""
    return given_on + timedelta(days_free)


def storage_days(from_on: date | None, on: date) -> int:
    """Days charged when the machine leaves on ``on``, which itself is free."""
    return max(0, (on - from_on).days) if from_on else 0


def storage_charge(from_on: date | None, per_day: Decimal, on: date) -> Decimal:
    return storage_days(from_on, on) * per_day
