"""Pulls what is not posted yet into the journal: each document once, each entry sealed."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.text import capfirst
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.books.domain import posting
from shop.books.domain.posting import Line, PostingError, Rules
from shop.books.models import Account, JournalEntry, JournalLine
from shop.books.selectors.sources import SOURCES, Source
from shop.books.services.accounts import posting_rules
from shop.books.services.errors import BooksError
from units.rows.services import next_number

BATCH = 500


@dataclass(frozen=True)
class Draft:
    """What is written of one document: its text and its balanced lines."""

    text: str
    lines: tuple[Line, ...]


@transaction.atomic
def post_pending(*, through: date, by: AbstractBaseUser | None, at: datetime) -> int:
    """Post every document dated through ``through`` that has no entry; return how many.

    A second run finds nothing to do; two at once wait for each other. Raises BooksError, or
    DayClosedError for a document of a closed day.
    """
    # The series' row is held until the end of the transaction: one run at a time.
    next_number("posting run")
    rules = posting_rules()
    if Account.objects.filter(number__in=rules.accounts).count() < len(rules.accounts):
        raise BooksError(_("The accounts are not loaded. Run “manage.py loadreference” first."))
    return sum(_post_source(source, through, rules, by, at) for source in SOURCES.values())


def _post_source(source: Source, through: date, rules: Rules, by, at: datetime) -> int:
    posted = 0
    while rows := list(source.unposted(through)[:BATCH]):
        if not posted:
            require_open(getattr(rows[0], source.day))
        _write([(row, _draft(source, row, rules)) for row in rows], source, by, at)
        posted += len(rows)
    return posted


def _draft(source: Source, row, rules: Rules) -> Draft:
    try:
        draft = DRAFTS[source.key](row, rules)
        if not draft.lines:
            raise PostingError("It moves no account.")
        return draft
    except PostingError as error:
        raise BooksError(
            _("%(document)s cannot be posted. %(reason)s")
            % {"document": row.entry_document, "reason": error}
        ) from error


def _write(drafts, source: Source, by, at: datetime) -> None:
    entries = JournalEntry.objects.bulk_create(
        JournalEntry(
            document=row.entry_document,
            rule=row.entry_rule,
            entry_on=getattr(row, source.day),
            text=capfirst(draft.text)[:200],
            posted_at=at,
            posted_by=by,
        )
        for row, draft in drafts
    )
    JournalLine.objects.bulk_create(
        JournalLine(entry=entry, account_id=line.account, amount=line.amount)
        for entry, (_row, draft) in zip(entries, drafts, strict=True)
        for line in draft.lines
    )
    JournalEntry.objects.filter(pk__in=[entry.pk for entry in entries]).update(sealed=True)


def _invoice(invoice, rules: Rules) -> Draft:
    return Draft(
        _("Invoice to %(customer)s") % {"customer": invoice.customer},
        posting.invoice_lines(
            [(line.line_class, line.net) for line in invoice.lines.all()],
            [tax.tax for tax in invoice.taxes.all()],
            rules,
        ),
    )


def _payment(payment, rules: Rules) -> Draft:
    return Draft(
        _("%(method)s from %(customer)s for %(invoice)s")
        % {
            "method": payment.get_method_display(),
            "customer": payment.invoice.customer,
            "invoice": payment.invoice,
        },
        posting.payment_lines(payment.method, payment.amount, rules),
    )


def _move(move, rules: Rules) -> Draft:
    return Draft(
        _("%(reason)s: %(part)s") % {"reason": move.get_reason_display(), "part": move.part},
        posting.stock_lines(move.taken_for, move.cost, rules),
    )


def _cost(cost, rules: Rules) -> Draft:
    return Draft(
        _("%(sort)s for our %(machine)s")
        % {"sort": cost.get_sort_display(), "machine": cost.stay.unit},
        posting.machine_cost_lines(cost.sort, cost.amount, rules),
    )


def _sale(sale, rules: Rules) -> Draft:
    return Draft(
        _("What our %(machine)s cost us") % {"machine": sale.stay.unit},
        posting.machine_sold_lines(sale.cost, rules),
    )


def _piece(piece, rules: Rules) -> Draft:
    return Draft(
        _("Scrapped: %(component)s of %(machine)s")
        % {"component": piece.component, "machine": piece.donor},
        posting.piece_scrapped_lines(piece.cost, rules),
    )


def _disposal(disposal, rules: Rules) -> Draft:
    return Draft(
        _("%(how)s: our %(machine)s")
        % {"how": disposal.stay.get_left_display(), "machine": disposal.stay.unit},
        posting.machine_given_lines(disposal.stay.left, disposal.cost, rules),
    )


def _deposit(deposit, rules: Rules) -> Draft:
    return Draft(
        _("Deposit of %(customer)s, %(method)s")
        % {"customer": deposit.customer, "method": deposit.get_method_display()},
        posting.deposit_lines(deposit.method, deposit.amount, rules),
    )


def _deposit_end(end, rules: Rules) -> Draft:
    deposit = end.deposit
    return Draft(
        _("Deposit of %(customer)s, %(how)s")
        % {"customer": deposit.customer, "how": end.get_how_display()},
        posting.deposit_end_lines(end.how, deposit.method, deposit.amount, rules),
    )


def _goods(goods, rules: Rules) -> Draft:
    return Draft(
        _("Bought: %(goods)s") % {"goods": goods.name},
        posting.goods_lines(goods.price, goods.haul, rules),
    )


def _goods_out(out, rules: Rules) -> Draft:
    return Draft(
        _("%(reason)s: %(goods)s") % {"reason": out.get_reason_display(), "goods": out.goods},
        posting.goods_out_lines(out.reason, out.cost, rules),
    )


def _seller_payment(payment, rules: Rules) -> Draft:
    text = _("Paid to %(seller)s for %(document)s, %(method)s")
    if payment.came_back:
        text = _("Paid back by %(seller)s for %(document)s, %(method)s")
    said = {"seller": payment.seller, "document": payment.document}
    return Draft(
        text % (said | {"method": payment.get_method_display()}),
        posting.seller_payment_lines(payment.method, payment.amount, rules),
    )


def _holdback(held, rules: Rules) -> Draft:
    return Draft(
        _("Held back from %(seller)s for %(document)s")
        % {"seller": held.seller, "document": held.document},
        posting.holdback_lines(held.amount, rules),
    )


def _holdback_end(end, rules: Rules) -> Draft:
    return Draft(
        _("Held back from %(seller)s, %(how)s")
        % {"seller": end.holdback.seller, "how": end.get_how_display()},
        posting.holdback_end_lines(end.how, end.amount, rules),
    )


DRAFTS: dict[str, Callable[..., Draft]] = {
    "invoice": _invoice,
    "payment": _payment,
    "move": _move,
    "cost": _cost,
    "sale": _sale,
    "piece": _piece,
    "disposal": _disposal,
    "deposit": _deposit,
    "deposit-end": _deposit_end,
    "goods": _goods,
    "goods-out": _goods_out,
    "seller-payment": _seller_payment,
    "holdback": _holdback,
    "holdback-end": _holdback_end,
}
