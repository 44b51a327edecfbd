"""The day by which everything has to be out."""

from datetime import date, datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.lots.models import Lot
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot, take_step
from units.show.words import day


@transaction.atomic
def name_removal_day(
    *, lot: Lot, remove_by: date, note: str, on: date, by: AbstractBaseUser, at: datetime
) -> Lot:
    """Write down that the seller named another day; the steps of the lot keep the one before.

    Raises LotError for a lot that is out, a day before the offer, and without who said so.
    """
    lot = lock_lot(lot)
    if lot.is_out:
        raise LotError(_("Nothing of this lot is left to be removed."))
    if remove_by < lot.offered_on:
        raise LotError(
            _("The machines cannot be due to leave before they were offered."), "remove_by"
        )
    if not note.strip():
        raise LotError(_("Say who named the day."), "note")
    said = _("to be removed by %(day)s, before %(earlier)s: %(note)s") % {
        "day": day(remove_by),
        "earlier": day(lot.remove_by) if lot.remove_by else "–",
        "note": note.strip(),
    }
    lot.remove_by = remove_by
    lot.save(update_fields=["remove_by"])
    take_step(lot, lot.state, on=on, note=said[:300], by=by, at=at)
    return lot
