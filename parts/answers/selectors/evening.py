from datetime import date, datetime, time, timedelta

from django.utils import timezone


def evening_of(day: date) -> datetime:
    """The last moment of a day, where the shop is."""
    return timezone.make_aware(datetime.combine(day, time.max))


def last_evening() -> datetime:
    """The last moment of yesterday, where the shop is."""
    return evening_of(timezone.localdate() - timedelta(days=1))
