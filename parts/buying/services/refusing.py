"""What buying refuses, and the refusals that several services share."""

from collections.abc import Callable
from datetime import date

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.fits.services import RefusedError
from units.show.words import day as written


class BuyingError(RefusedError):
    """A supplier, order, receipt or return that cannot be taken as it stands.

    ``row`` counts, from 0, the line to blame among those that were handed in.
    """

    def __init__(self, sentence: str, field: str | None = None, row: int | None = None):
        super().__init__(sentence, field)
        self.row = row


def require_come(on: date, at, field: str) -> None:
    today = timezone.localdate(at)
    if on > today:
        raise BuyingError(
            _("%(day)s has not come yet. Use a day up to %(today)s.")
            % {"day": written(on), "today": written(today)},
            field,
        )


def once(model, key, write: Callable):
    """The row of this once-only key: the first one, or what ``write`` makes."""
    first = model.objects.filter(key=key).first()
    if first:
        return first
    try:
        with transaction.atomic():
            return write()
    except IntegrityError:  # the same form came twice in one moment
        first = model.objects.filter(key=key).first()
        if first is None:
            raise
        return first
