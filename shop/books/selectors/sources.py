"""The documents that move the accounts, and which of them are not in the journal yet.

A document is known to be posted by its entry (document, rule), never by a mark of the highest
id: rows that were committed late are found all the same.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from django.db.models import Case, CharField, Exists, F, OuterRef, Q, QuerySet, Sum, Value, When
from django.db.models.functions import Cast, Coalesce, Concat

from parts.stock.models import DonorComponent, StockMove
from shop.books.models import JournalEntry
from shop.floor.models import Goods, GoodsOut, MachineCost
from shop.resale.models import Disposal, Sale
from shop.till.models import (
    Deposit,
    DepositEnd,
    Holdback,
    HoldbackEnd,
    Invoice,
    InvoiceLine,
    Payment,
    SellerPayment,
)


@dataclass(frozen=True)
class Source:
    """``rows`` gives only rows that move an account, with ``entry_document`` and ``entry_rule``."""

    key: str
    day: str
    rows: Callable[[], QuerySet]

    def through(self, last: date) -> QuerySet:
        return self.rows().filter(**{f"{self.day}__lte": last})

    def unposted(self, last: date) -> QuerySet:
        """Rows through ``last`` that have no entry, oldest first."""
        entry = JournalEntry.objects.filter(
            document=OuterRef("entry_document"), rule=OuterRef("entry_rule")
        )
        return self.through(last).filter(~Exists(entry)).order_by(self.day, "pk")


def _known_as(rows: QuerySet, rule, document) -> QuerySet:
    return rows.annotate(entry_rule=rule, entry_document=document)


def _numbered() -> Concat:
    """Rows that share a document: its number and their own, as in ``J00012/345``."""
    row = Cast("pk", CharField())
    return Concat("document", Value("/"), row, output_field=CharField())


def _ruled(prefix: str, field: str) -> Concat:
    return Concat(Value(prefix), field, output_field=CharField())


def _invoices() -> QuerySet:
    """A bill of nothing moves an account only where its classes do not cancel out each alone."""
    lines = InvoiceLine.objects.filter(invoice=OuterRef("pk")).order_by().values("line_class")
    moving = lines.annotate(moved=Sum("net")).exclude(moved=0)
    rows = Invoice.objects.filter(~Q(total=0) | Exists(moving)).select_related("customer")
    rows = rows.prefetch_related("lines", "taxes")
    return _known_as(rows, Value("invoice"), F("number"))


def _payments() -> QuerySet:
    rows = Payment.objects.select_related("invoice__customer")
    return _known_as(rows, Value("payment"), F("number"))


def _moves() -> QuerySet:
    """Parts that went into our own machines are left out: they are posted as machine costs.

    ``taken_for`` is the reason by which a move finds its account: a part put back goes against the
    account that it was taken to, and our own warranty has one of its own.
    """
    rows = (
        StockMove.objects.exclude(cost=0)
        .exclude(part_use__job__purpose="own")
        .exclude(reverses__part_use__job__purpose="own")
        .select_related("part")
        .annotate(
            taken_for=_unless_warranty(Coalesce("reverses__reason", "reason")),
            ruled=_unless_warranty(F("reason")),
        )
    )
    return _known_as(rows, _ruled("stock-", "ruled"), _numbered())


def _unless_warranty(reason) -> Case:
    used = Q(part_use__job__purpose="warranty", reverses=None)
    if not isinstance(reason, F):
        used = used | Q(reverses__part_use__job__purpose="warranty")
    return Case(When(used, then=Value("warranty")), default=reason, output_field=CharField())


def _costs() -> QuerySet:
    rows = MachineCost.objects.exclude(amount=0).select_related("stay__unit__model__maker")
    return _known_as(rows, _ruled("machine-", "sort"), _numbered())


def _sales() -> QuerySet:
    rows = Sale.objects.exclude(cost=0).select_related("invoice", "stay__unit__model__maker")
    return _known_as(rows, Value("machine-sold"), F("invoice__number"))


def _disposals() -> QuerySet:
    rows = Disposal.objects.exclude(cost=0).select_related("stay__unit__model__maker")
    return _known_as(rows, _ruled("machine-", "stay__left"), F("number"))


def _deposits() -> QuerySet:
    return _known_as(Deposit.objects.select_related("customer"), Value("deposit"), F("number"))


def _deposit_ends() -> QuerySet:
    """What was given back or kept; one taken off an invoice is posted as its payment."""
    rows = DepositEnd.objects.exclude(how=DepositEnd.How.APPLIED)
    rows = rows.select_related("deposit__customer")
    return _known_as(rows, _ruled("deposit-", "how"), F("deposit__number"))


def _pieces() -> QuerySet:
    """Pieces of donors that were thrown away after they had got their share of the cost."""
    rows = DonorComponent.objects.filter(state=DonorComponent.State.SCRAPPED).exclude(cost=0)
    rows = rows.select_related("component", "donor__unit__model__maker")
    row = Concat(F("donor__document"), Value("/"), Cast("pk", CharField()))
    return _known_as(rows, Value("piece-scrapped"), row)


def _goods() -> QuerySet:
    return _known_as(Goods.objects.exclude(cost=0), Value("goods-bought"), F("number"))


def _goods_out() -> QuerySet:
    rows = GoodsOut.objects.exclude(cost=0).select_related("goods")
    return _known_as(rows, _ruled("goods-", "reason"), _numbered())


def _seller_payments() -> QuerySet:
    rows = SellerPayment.objects.select_related("seller")
    return _known_as(rows, Value("seller-payment"), F("number"))


def _holdbacks() -> QuerySet:
    return _known_as(Holdback.objects.select_related("seller"), Value("holdback"), F("number"))


def _holdback_ends() -> QuerySet:
    """One sum held back may end in several parts."""
    rows = HoldbackEnd.objects.select_related("holdback__seller")
    row = Concat(F("holdback__number"), Value("/"), Cast("pk", CharField()))
    return _known_as(rows, _ruled("holdback-", "how"), row)


SOURCES = {
    source.key: source
    for source in (
        Source("invoice", "issued_on", _invoices),
        Source("payment", "paid_on", _payments),
        Source("move", "moved_on", _moves),
        Source("cost", "spent_on", _costs),
        Source("sale", "sold_on", _sales),
        Source("piece", "settled_on", _pieces),
        Source("disposal", "gone_on", _disposals),
        Source("deposit", "taken_on", _deposits),
        Source("deposit-end", "ended_on", _deposit_ends),
        Source("goods", "came_on", _goods),
        Source("goods-out", "left_on", _goods_out),
        Source("seller-payment", "paid_on", _seller_payments),
        Source("holdback", "held_on", _holdbacks),
        Source("holdback-end", "ended_on", _holdback_ends),
    )
}
