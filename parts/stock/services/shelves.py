"""The shelves of a part: their bins, their locks, and which of them can give what is wanted."""
# ruff: noqa: A002 - a bin is the trade's word

from decimal import Decimal

from django.db import transaction
from django.utils.translation import gettext as _

from parts.fits.models import Part
from parts.fits.services import RefusedError
from parts.stock.models import Bin, Shelf
from units.show.words import number as figure


class StockError(RefusedError):
    """A movement that the shelf does not allow."""


class NotEnoughStockError(StockError):
    """More was asked for than lies there."""


@transaction.atomic
def find_or_add_bin(*, name: str) -> Bin:
    name = " ".join(name.split())
    if not name:
        raise StockError(_("Say in which bin it lies."), "bin")
    found = Bin.objects.filter(name__iexact=name).first()
    return found or Bin.objects.get_or_create(name=name)[0]


def require_quantity(quantity: Decimal) -> None:
    if quantity <= 0:
        raise StockError(_("The quantity must be more than nothing."), "quantity")


def locked_shelves(part: Part) -> list[Shelf]:
    """All shelves of a part, locked: layers belong to the part, so its takers queue here."""
    shelves = Shelf.objects.select_for_update(of=("self",)).filter(part=part)
    return list(shelves.select_related("bin").order_by("pk"))


def locked_shelf(part: Part, bin: Bin) -> Shelf:
    Shelf.objects.get_or_create(part=part, bin=bin)
    return next(shelf for shelf in locked_shelves(part) if shelf.bin_id == bin.pk)


def shelf_holding(part: Part, quantity: Decimal, bin: Bin | None) -> Shelf:
    """The shelf to take from, locked, or :class:`NotEnoughStockError` saying what lies where."""
    shelves = locked_shelves(part)
    allowed = [s for s in shelves if s.on_hand and (bin is None or s.bin_id == bin.pk)]
    for shelf in sorted(allowed, key=lambda shelf: shelf.bin.name):
        if shelf.on_hand >= quantity:
            return shelf
    words = {"part": part, "wanted": figure(quantity)}
    if not allowed:
        raise NotEnoughStockError(
            _("There is none of %(part)s on the shelf; %(wanted)s were wanted.") % words,
            "quantity",
        )
    words["bins"] = ", ".join(f"{shelf.bin.name}: {figure(shelf.on_hand)}" for shelf in allowed)
    raise NotEnoughStockError(
        _("No bin holds %(wanted)s of %(part)s. On the shelf: %(bins)s.") % words, "quantity"
    )
