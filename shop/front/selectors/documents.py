"""A document by its number: the letter tells the series, and so the one table to look in."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from parts.buying.models import Exchange, PurchaseOrder, Receipt, SupplierReturn
from parts.stock.models import StockMove
from shop.floor.models import Goods, MachineCost
from shop.front.access import may_open
from shop.lots.models import Lot
from shop.resale.models import Disposal
from shop.till.models import Deposit, Holdback, Payment, SellerPayment

NUMBER = re.compile(r"([A-Z])(\d{1,9})")
DIGITS = 5  # of a number in the series, at least


@dataclass(frozen=True)
class Document:
    """What the number names, in words, and the page on which it is read."""

    number: str
    words: str
    href: str


def documents(text: str, key: str, seats) -> list[Document]:
    """The document of this number that these seats may open, and deliveries whose paper bears what
    was typed. Three queries at most."""
    numbered = list(_numbered(key, seats))
    papers = Receipt.objects.filter(reference__iexact=text.strip()).select_related("supplier")
    return numbered or [_receipt(one) for one in papers[:DIGITS]]


def _numbered(key: str, seats) -> Iterator[Document]:
    parts = NUMBER.fullmatch(key)
    if parts and parts[1] in SERIES:
        yield from SERIES[parts[1]](f"{parts[1]}{parts[2].zfill(DIGITS)}", seats)


def _orders(number: str, seats) -> Iterator[Document]:
    for order in PurchaseOrder.objects.filter(number=number).select_related("supplier"):
        words = _("order from %(supplier)s") % {"supplier": order.supplier}
        yield Document(number, words, order.get_absolute_url())


def _receipts(number: str, seats) -> Iterator[Document]:
    receipts = Receipt.objects.filter(number=number).select_related("supplier")
    return map(_receipt, receipts)


def _receipt(receipt: Receipt) -> Document:
    words = _("delivery from %(supplier)s") % {"supplier": receipt.supplier}
    return Document(receipt.number, words, receipt.get_absolute_url())


def _returns(number: str, seats) -> Iterator[Document]:
    returns = SupplierReturn.objects.filter(number=number)
    for one in returns.select_related("receipt_line__receipt__supplier"):
        receipt = one.receipt_line.receipt
        words = _("sent back to %(supplier)s") % {"supplier": receipt.supplier}
        yield Document(number, words, receipt.get_absolute_url())


def _exchanges(number: str, seats) -> Iterator[Document]:
    for one in Exchange.objects.filter(number=number).select_related("offer__supplier"):
        words = _("exchange at %(workshop)s") % {"workshop": one.offer.supplier}
        may = may_open(seats, "exchange-step")
        href = reverse("exchange-step", args=[number]) if may else reverse("exchange-list")
        yield Document(number, words, href)


def _moves(number: str, seats) -> Iterator[Document]:
    """Counts, scrap and moves to another bin are lines of the ledger, read on the part's shelf."""
    move = StockMove.objects.filter(document=number).select_related("part").first()
    if move:
        words = f"{move.get_reason_display()}: {move.part}"
        yield Document(number, words, reverse("stock-part", args=[move.part_id]))


def _purchases(number: str, seats) -> Iterator[Document]:
    """A lot that was bought under this number, or the machine."""
    lots = Lot.objects.filter(document=number)
    for lot in lots:
        yield Document(number, _("lot: %(lot)s") % {"lot": lot}, lot.get_absolute_url())
    if not lots:
        yield from _machines_bought(number)


def _sellers(number: str, seats) -> Iterator[Document]:
    """A payment to a seller, or money held back: read with the lot, or with what is owed."""
    if not may_open(seats, "lot-money"):
        return
    for table in (SellerPayment, Holdback):
        for one in table.objects.filter(number=number).select_related("seller"):
            lot = Lot.objects.filter(document=one.document).first()
            href = reverse("lot-money", args=[lot.pk]) if lot else reverse("sellers-owed")
            yield Document(number, _("paid to %(seller)s") % {"seller": one.seller}, href)


def _goods(number: str, seats) -> Iterator[Document]:
    for one in Goods.objects.filter(number=number):
        yield Document(number, one.name, reverse("goods", args=[number]))


def _machines_bought(number: str) -> Iterator[Document]:
    costs = MachineCost.objects.filter(document=number, sort=MachineCost.Sort.PURCHASE)
    for cost in costs.select_related("stay__unit__model__maker"):
        unit = cost.stay.unit
        words = _("bought: %(machine)s") % {"machine": unit}
        yield Document(number, words, reverse("machine", args=[unit.pk]))


def _payments(number: str, seats) -> Iterator[Document]:
    if not may_open(seats, "invoice"):
        return
    for payment in Payment.objects.filter(number=number).select_related("invoice"):
        words = _("payment of invoice %(invoice)s") % {"invoice": payment.invoice.number}
        yield Document(number, words, reverse("invoice", args=[payment.invoice.number]))


def _deposits(number: str, seats) -> Iterator[Document]:
    if not may_open(seats, "reservation-paper"):
        return
    found = Deposit.objects.filter(number=number, reservation__isnull=False)
    for deposit in found.select_related("customer", "reservation"):
        words = _("deposit of %(customer)s") % {"customer": deposit.customer}
        yield Document(number, words, reverse("reservation-paper", args=[deposit.reservation.pk]))


def _disposals(number: str, seats) -> Iterator[Document]:
    for gone in Disposal.objects.filter(number=number).select_related("stay__unit__model__maker"):
        words = f"{gone.stay.get_left_display()}: {gone.stay.unit}"
        yield Document(number, words, reverse("disposal", args=[number]))


# Jobs (J) and invoices (R) are found by the search itself, by more than their number.
SERIES: dict[str, Callable] = {
    "O": _orders,
    "D": _receipts,
    "S": _returns,
    "X": _exchanges,
    "C": _moves,
    "W": _moves,
    "T": _moves,
    "B": _purchases,
    "P": _payments,
    "A": _deposits,
    "G": _disposals,
    "V": _sellers,
    "H": _sellers,
    "L": _goods,
}
