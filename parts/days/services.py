from datetime import date

from django.db import connection, transaction
from django.utils.translation import gettext as _

from parts.days.models import Calendar
from units.show.words import day as written


class DayClosedError(ValueError):
    """A dated row was to be written into a day that is closed; its text is a sentence to show."""


def closed_through() -> date | None:
    return Calendar.objects.get(id=1).closed_through


def require_open(on: date) -> None:
    """Hold the calendar shared until the transaction ends and refuse a closed day.

    Closing takes the same row exclusively, so no dated row slips in beside it. On SQLite the
    write transaction already stands alone.
    """
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("require_open needs a transaction")
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT closed_through FROM days_calendar WHERE id = 1 FOR SHARE")
            closed = cursor.fetchone()[0]
    else:
        closed = closed_through()
    if closed and on <= closed:
        raise DayClosedError(
            _("The books are closed through %(day)s. Use a later day.") % {"day": written(closed)}
        )
