from datetime import datetime, time, timedelta

from django.utils import timezone


def last_evening() -> datetime:
    """The last moment of yesterday, where the shop is."""
    today = timezone.make_aware(datetime.combine(timezone.localdate(), time.min))
    return today - timedelta(microseconds=1)
