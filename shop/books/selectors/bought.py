"""The tables of what was bought by the lump, and of what its sellers were paid."""

from heapq import merge

from django.utils.translation import gettext_lazy as _

from shop.books.domain.months import Month
from shop.books.selectors.tables import CHUNK, DAY, Column, Register, of_month
from shop.floor.models import Goods, GoodsOut
from shop.till.models import Holdback, HoldbackEnd, SellerPayment


def seller_rows(month: Month):
    """Money that went to sellers, came back, was held back and what became of it, by day."""
    paid = SellerPayment.objects.select_related("seller")
    held = Holdback.objects.select_related("seller")
    ended = HoldbackEnd.objects.select_related("holdback__seller")
    return merge(
        map(_payment_row, of_month(paid, "paid_on", month).iterator(CHUNK)),
        map(_held_row, of_month(held, "held_on", month).iterator(CHUNK)),
        map(_ended_row, of_month(ended, "ended_on", month).iterator(CHUNK)),
        key=lambda row: row[0],
    )


def _payment_row(one: SellerPayment) -> tuple:
    what = _("paid back") if one.came_back else _("paid")
    words = (one.paid_on, str(what), one.number, one.seller.name, one.document)
    return (*words, one.get_method_display(), one.reference, one.amount, None)


def _held_row(one: Holdback) -> tuple:
    words = (one.held_on, str(_("held back")), one.number, one.seller.name, one.document)
    return (*words, "", one.reason, None, one.amount)


def _ended_row(end: HoldbackEnd) -> tuple:
    held = end.holdback
    words = (end.ended_on, end.get_how_display(), held.number, held.seller.name, held.document)
    return (*words, "", end.reason, None, -end.amount)


def goods_rows(month: Month):
    """Goods that came and went, by day."""
    went = GoodsOut.objects.select_related("goods")
    return merge(
        map(_came_row, of_month(Goods.objects, "came_on", month).iterator(CHUNK)),
        map(_went_row, of_month(went, "left_on", month).iterator(CHUNK)),
        key=lambda row: row[0],
    )


def _came_row(one: Goods) -> tuple:
    words = (one.came_on, str(_("bought")), one.document, one.number, one.name)
    return (*words, one.quantity, one.get_measure_display(), one.cost, one.haul, None)


def _went_row(out: GoodsOut) -> tuple:
    one = out.goods
    words = (out.left_on, out.get_reason_display(), out.document, one.number, one.name)
    return (*words, -out.quantity, one.get_measure_display(), None, None, out.cost)


SELLERS = Register(
    _("Paid to sellers"),
    (
        DAY,
        Column(_("what"), width=24),
        Column(_("number"), width=10),
        Column(_("seller"), width=28),
        Column(_("for purchase")),
        Column(_("method")),
        Column(_("reference or why"), width=28),
        Column(_("paid"), "money"),
        Column(_("held back"), "money"),
    ),
    seller_rows,
)
GOODS = Register(
    _("Goods"),
    (
        DAY,
        Column(_("what")),
        Column(_("document")),
        Column(_("number"), width=10),
        Column(_("goods"), width=30),
        Column(_("quantity"), "quantity", 10),
        Column(_("measure"), width=12),
        Column(_("cost put in"), "money"),
        Column(_("of it for the haul"), "money"),
        Column(_("cost taken out"), "money"),
    ),
    goods_rows,
)
