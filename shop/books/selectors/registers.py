"""The tables of a month's book: what stands in which column, and the rows, read as they come."""

from heapq import merge

from django.db.models import Q, Sum
from django.utils.translation import gettext_lazy as _

from parts.stock.models import StockMove
from shop.books.domain.months import Month
from shop.books.models import JournalLine
from shop.books.selectors.bought import GOODS, SELLERS
from shop.books.selectors.figures import LEFT_THE_SHELF
from shop.books.selectors.tables import CHUNK, DAY, Column, Register, of_month
from shop.floor.models import MachineCost
from shop.resale.models import Disposal, Sale
from shop.till.models import BILLED, Deposit, DepositEnd, Invoice, InvoiceTax, Payment


def sales_rows(month: Month):
    nets = {
        f"net_{name}": Sum("lines__net", filter=Q(lines__line_class=name))
        for name, _label in BILLED
    }
    rows = of_month(Invoice.objects.select_related("customer").annotate(**nets), "issued_on", month)
    for row in rows.iterator(CHUNK):
        yield (
            row.number,
            row.issued_on,
            row.customer.name,
            row.document,
            *(getattr(row, name) or 0 for name in nets),
            row.net,
            row.tax,
            row.total,
            row.tax_exempt_reason,
        )


def tax_rows(month: Month):
    rows = InvoiceTax.objects.filter(
        invoice__issued_on__gte=month.first, invoice__issued_on__lte=month.last
    )
    grouped = rows.order_by("jurisdiction", "percent").values_list("jurisdiction", "percent")
    return grouped.annotate(Sum("taxable"), Sum("tax"))


def payment_rows(month: Month):
    rows = of_month(Payment.objects.select_related("invoice__customer"), "paid_on", month)
    for row in rows.iterator(CHUNK):
        yield (
            row.number,
            row.paid_on,
            row.invoice.number,
            row.invoice.customer.name,
            row.get_method_display(),
            row.reference,
            row.amount,
        )


def parts_rows(month: Month):
    """Parts that left the shelf for work or over the counter; a part put back is negative."""
    moves = StockMove.objects.filter(reason__in=LEFT_THE_SHELF).select_related(
        "part__maker", "part_use__job", "reverses__part_use__job"
    )
    for move in of_month(moves, "moved_on", month).iterator(CHUNK):
        yield (
            move.moved_on,
            move.document,
            _purpose(move),
            move.get_reason_display(),
            move.part.maker.name if move.part.maker else "",
            move.part.number,
            move.part.name,
            -move.quantity,
            -move.cost,
        )


def _purpose(move: StockMove) -> str:
    use = getattr(move.reverses or move, "part_use", None)
    return use.job.get_purpose_display() if use else ""


def machine_rows(month: Month):
    """What our machines cost, and those that were sold or given away, in the order of the days."""
    costs = MachineCost.objects.select_related("stay__unit__model__maker")
    sales = Sale.objects.select_related("stay__unit__model__maker", "invoice")
    gone = Disposal.objects.select_related("stay__unit__model__maker")
    rows = merge(
        map(_cost_row, of_month(costs, "spent_on", month).iterator(CHUNK)),
        map(_sale_row, of_month(sales, "sold_on", month).iterator(CHUNK)),
        map(_disposal_row, of_month(gone, "gone_on", month).iterator(CHUNK)),
        key=lambda row: row[0],
    )
    return rows


def _cost_row(cost: MachineCost) -> tuple:
    machine = _machine(cost.stay.unit)
    return (
        cost.spent_on,
        cost.get_sort_display(),
        cost.document,
        *machine,
        cost.amount,
        None,
        None,
    )


def _sale_row(sale: Sale) -> tuple:
    machine = _machine(sale.stay.unit)
    words = (sale.sold_on, sale.stay.get_left_display(), sale.invoice.number)
    return (*words, *machine, None, sale.cost, sale.invoice.net)


def _disposal_row(gone: Disposal) -> tuple:
    words = (gone.gone_on, gone.stay.get_left_display(), gone.number)
    return (*words, *_machine(gone.stay.unit), None, gone.cost, None)


def deposit_rows(month: Month):
    """Deposits that came in, and what became of them, in the order of the days."""
    taken = Deposit.objects.select_related("customer")
    ended = DepositEnd.objects.select_related("deposit__customer", "invoice")
    return merge(
        map(_deposit_row, of_month(taken, "taken_on", month).iterator(CHUNK)),
        map(_deposit_end_row, of_month(ended, "ended_on", month).iterator(CHUNK)),
        key=lambda row: row[0],
    )


def _deposit_row(one: Deposit) -> tuple:
    words = (one.taken_on, str(_("taken")), one.number, one.customer.name)
    return (*words, one.get_method_display(), one.document, one.reference, one.amount)


def _deposit_end_row(end: DepositEnd) -> tuple:
    one = end.deposit
    words = (end.ended_on, end.get_how_display(), one.number, one.customer.name)
    document = end.invoice.number if end.invoice else ""
    return (*words, one.get_method_display(), document, end.reason, -one.amount)


def _machine(unit) -> tuple[str, str, str]:
    return unit.model.maker.name, unit.model.number, unit.serial


def journal_rows(month: Month):
    lines = JournalLine.objects.filter(
        entry__sealed=True, entry__entry_on__gte=month.first, entry__entry_on__lte=month.last
    )
    rows = lines.select_related("entry", "account").order_by("entry__entry_on", "entry_id", "pk")
    for line in rows.iterator(CHUNK):
        yield (
            line.entry.entry_on,
            str(line.entry_id),
            line.account_id,
            line.account.name,
            line.entry.text,
            line.entry.document,
            line.debit,
            line.credit,
        )


MAKER, MODEL, SERIAL = Column(_("maker")), Column(_("model")), Column(_("serial"))

REGISTERS = (
    Register(
        _("Sales"),
        (
            Column(_("invoice"), width=10),
            DAY,
            Column(_("customer"), width=28),
            Column(_("for document")),
            Column(_("parts"), "money"),
            Column(_("labour"), "money"),
            Column(_("machines"), "money"),
            Column(_("trips"), "money"),
            Column(_("fees"), "money"),
            Column(_("disposal"), "money"),
            Column(_("core charges"), "money"),
            Column(_("goods"), "money"),
            Column(_("net"), "money"),
            Column(_("tax"), "money"),
            Column(_("total"), "money"),
            Column(_("why exempt from tax"), width=28),
        ),
        sales_rows,
    ),
    Register(
        _("Tax"),
        (
            Column(_("jurisdiction"), width=28),
            Column(_("per cent"), "percent"),
            Column(_("taxed amount"), "money"),
            Column(_("tax"), "money"),
        ),
        tax_rows,
    ),
    Register(
        _("Payments"),
        (
            Column(_("receipt"), width=10),
            DAY,
            Column(_("invoice"), width=10),
            Column(_("customer"), width=28),
            Column(_("method")),
            Column(_("reference"), width=20),
            Column(_("amount"), "money"),
        ),
        payment_rows,
    ),
    Register(
        _("Deposits"),
        (
            DAY,
            Column(_("what"), width=20),
            Column(_("deposit"), width=10),
            Column(_("customer"), width=28),
            Column(_("method")),
            Column(_("for document")),
            Column(_("reference or why"), width=28),
            Column(_("amount"), "money"),
        ),
        deposit_rows,
    ),
    Register(
        _("Parts used"),
        (
            DAY,
            Column(_("document")),
            Column(_("work is"), width=18),
            Column(_("reason"), width=18),
            MAKER,
            Column(_("part number")),
            Column(_("part"), width=30),
            Column(_("quantity"), "quantity", 10),
            Column(_("cost"), "money"),
        ),
        parts_rows,
    ),
    Register(
        _("Machines"),
        (
            DAY,
            Column(_("what")),
            Column(_("document")),
            MAKER,
            MODEL,
            SERIAL,
            Column(_("cost put in"), "money"),
            Column(_("cost taken out"), "money"),
            Column(_("sold for, before tax"), "money", 18),
        ),
        machine_rows,
    ),
    GOODS,
    SELLERS,
    # The heads of the journal are those that accounting programs look for.
    Register(
        "Journal",
        (
            Column("date", "day", 12),
            Column("entry", width=8),
            Column("account", width=9),
            Column("account name", width=30),
            Column("text", width=44),
            Column("document"),
            Column("debit", "money"),
            Column("credit", "money"),
        ),
        journal_rows,
    ),
)
