"""Which month a person means."""

from datetime import date

from django.utils.translation import gettext as _

from shop.books.domain.months import Month, MonthError
from shop.books.services.errors import BooksError


def read_period(text: str, today: date) -> Month:
    """The month that the text names. Raises BooksError for no month, or one yet to come."""
    try:
        month = Month.read(text)
    except MonthError as error:
        raise BooksError(
            _("“%(text)s” is not a month. Write the year and the month, such as 2026-10.")
            % {"text": text}
        ) from error
    if month > Month.of(today):
        raise BooksError(
            _("%(month)s is still to come. Choose a month up to %(now)s.")
            % {"month": month, "now": Month.of(today)}
        )
    return month
