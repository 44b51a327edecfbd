"""Sellers' lists, written down as the seller wrote them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.lots.models import Offer, OfferLine
from shop.people.models import Customer
from units.catalogue.models import MachineModel


class OfferError(ValueError):
    """An offer is refused; the text is a sentence to show."""


@dataclass(frozen=True)
class OfferedLine:
    """One line of the list: ``text`` as the seller wrote it, ``model`` what we take it for.

    ``hours`` are those that the machine ran, as far as the list says.
    """

    text: str
    model: MachineModel | None = None
    count: int = 1
    serial: str = ""
    hours: int | None = None
    note: str = ""


@transaction.atomic
def add_offer(
    *,
    seller: Customer,
    title: str,
    asked: Decimal | None,
    offered_on: date,
    remove_by: date | None,
    lines: Sequence[OfferedLine],
    by: AbstractBaseUser,
    at: datetime,
) -> Offer:
    """Write down what a seller offers; ``asked`` is empty where he asks for our price.

    Raises OfferError, and then nothing is written.
    """
    _check(title, asked, offered_on, remove_by, lines)
    offer = Offer.objects.create(
        seller=seller,
        title=title.strip(),
        asked=asked,
        offered_on=offered_on,
        remove_by=remove_by,
        recorded_at=at,
        recorded_by=by,
    )
    OfferLine.objects.bulk_create(
        OfferLine(
            offer=offer,
            position=position,
            text=line.text.strip(),
            model=line.model,
            count=line.count,
            serial=line.serial.strip(),
            hours=line.hours,
            note=line.note.strip(),
        )
        for position, line in enumerate(lines, start=1)
    )
    return offer


def _check(title, asked, offered_on, remove_by, lines) -> None:
    if not title.strip():
        raise OfferError(_("Give the offer a title, such as the seller's name and the town."))
    if asked is not None and asked < 0:
        raise OfferError(_("The asked price is below nothing. Enter what the seller asks."))
    if remove_by and remove_by < offered_on:
        raise OfferError(_("The machines cannot be due to leave before they were offered."))
    if not lines:
        raise OfferError(_("The list is empty. An offer has at least one machine."))
    for position, line in enumerate(lines, start=1):
        if not line.text.strip():
            raise OfferError(
                _("Line %(position)d says no machine. Copy what the seller wrote.")
                % {"position": position}
            )
        if line.count < 1:
            raise OfferError(
                _("Line %(position)d counts no machine. Enter one or more.")
                % {"position": position}
            )
