"""The sums of a month, once from the documents and once from the journal."""

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Count, F, Q, Sum, Value

from parts.stock.models import Donor, DonorComponent, StockMove
from shop.books.domain.months import Month
from shop.books.domain.posting import Rules
from shop.books.domain.ties import Tie
from shop.books.models import JournalLine
from shop.books.selectors.sources import SOURCES
from shop.floor.models import Goods, GoodsOut, MachineCost
from shop.resale.models import Disposal, Sale
from shop.till.models import (
    Deposit,
    DepositEnd,
    Holdback,
    HoldbackEnd,
    Invoice,
    InvoiceLine,
    InvoiceTax,
    Payment,
    SellerPayment,
)

ZERO = Decimal(0)
# Papers that are summed: name, model, amount, day, and what they are told apart by.
PAPERS = [
    ("invoice", Invoice, "total", "issued_on", Value("")),
    ("line", InvoiceLine, "net", "invoice__issued_on", Value("")),
    ("tax", InvoiceTax, "tax", "invoice__issued_on", Value("")),
    ("payment", Payment, "amount", "paid_on", F("method")),
    ("move", StockMove, "cost", "moved_on", F("reason")),
    ("cost", MachineCost, "amount", "spent_on", F("sort")),
    ("sale", Sale, "cost", "sold_on", Value("")),
    ("donor", Donor, "cost", "stripped_on", Value("")),
    ("disposal", Disposal, "cost", "gone_on", Value("")),
    ("deposit", Deposit, "amount", "taken_on", Value("")),
    ("deposit-end", DepositEnd, "deposit__amount", "ended_on", F("how")),
    ("piece", DonorComponent, "cost", "settled_on", F("state")),
    ("goods", Goods, "cost", "came_on", Value("")),
    ("goods-haul", Goods, "haul", "came_on", Value("")),
    ("goods-out", GoodsOut, "cost", "left_on", F("reason")),
    ("seller-payment", SellerPayment, "amount", "paid_on", F("method")),
    ("holdback", Holdback, "amount", "held_on", Value("")),
    ("holdback-end", HoldbackEnd, "amount", "ended_on", F("how")),
]
LEFT_THE_SHELF = frozenset({"used", "sold", "returned"})
WARRANTY = "stock-warranty"  # what was used for our own warranty


@dataclass(frozen=True)
class AccountSum:
    """What moved on an account in the month, and how it stands at its end (debit positive)."""

    number: str
    name: str
    debit: Decimal
    credit: Decimal
    balance: Decimal


@dataclass(frozen=True)
class Figures:
    """``pending`` counts the documents through the month's end that have no entry yet."""

    month: Month
    accounts: list[AccountSum]
    ties: list[Tie]
    pending: int

    @property
    def hold(self) -> bool:
        return not self.pending and all(tie.holds for tie in self.ties)


def figures_of(month: Month, rules: Rules) -> Figures:
    """The month's sums and ties, in three queries."""
    journal = _Journal(month)
    return Figures(
        month, journal.accounts(), _ties(_Papers(month), journal, rules), _pending(month)
    )


class _Papers:
    """Sums of the documents, in the month and through its end."""

    def __init__(self, month: Month):
        queries = [self._query(month, *paper) for paper in PAPERS]
        self._sums = list(queries[0].union(*queries[1:], all=True))

    @staticmethod
    def _query(month, name, model, amount, day, sort):
        rows = model.objects.order_by().filter(**{f"{day}__lte": month.last})
        rows = rows.annotate(paper=Value(name), told=sort).values_list("paper", "told")
        in_month = Q(**{f"{day}__gte": month.first})
        return rows.annotate(in_month=Sum(amount, filter=in_month), through=Sum(amount))

    def in_month(self, name: str, only=None) -> Decimal:
        return self._sum(2, name, only)

    def through(self, name: str, only=None) -> Decimal:
        return self._sum(3, name, only)

    def _sum(self, column: int, name: str, only) -> Decimal:
        found = (row for row in self._sums if row[0] == name and (only is None or row[1] in only))
        return sum((row[column] or ZERO for row in found), ZERO)


class _Journal:
    """Sums of the sealed entries by rule and account."""

    def __init__(self, month: Month):
        in_month = Q(entry__entry_on__gte=month.first)
        self._sums = list(
            JournalLine.objects.filter(entry__entry_on__lte=month.last, entry__sealed=True)
            .order_by("account_id", "entry__rule")
            .values("account_id", "account__name", "entry__rule")
            .annotate(
                debit=Sum("amount", filter=in_month & Q(amount__gt=0)),
                credit=Sum("amount", filter=in_month & Q(amount__lt=0)),
                balance=Sum("amount"),
            )
        )

    def accounts(self) -> list[AccountSum]:
        rows = defaultdict(list)
        for row in self._sums:
            rows[row["account_id"], row["account__name"]].append(row)
        return [
            AccountSum(
                number,
                name,
                _total(found, "debit"),
                -_total(found, "credit"),
                _total(found, "balance"),
            )
            for (number, name), found in rows.items()
        ]

    def moved(self, accounts, rules=None) -> Decimal:
        """Debits less credits of the month on these accounts, by these rules or by all."""
        found = [row for row in self._sums if _is_of(row, accounts, rules)]
        return _total(found, "debit") + _total(found, "credit")

    def balance(self, account: str) -> Decimal:
        return _total([row for row in self._sums if row["account_id"] == account], "balance")

    def total(self, column: str) -> Decimal:
        return _total(self._sums, column)


def _is_of(row: dict, accounts, rules) -> bool:
    return row["account_id"] in accounts and (rules is None or row["entry__rule"] in rules)


def _total(rows, column: str) -> Decimal:
    return sum((row[column] or ZERO for row in rows), ZERO)


def _ties(papers: _Papers, journal: _Journal, rules: Rules) -> list[Tie]:
    used_rules = {f"stock-{reason}" for reason in LEFT_THE_SHELF} | {"machine-parts", WARRANTY}
    sold = {"machine-sold"}
    given = {f"machine-{how}" for how in rules.machines_given}
    costs = {f"machine-{sort}" for sort in rules.machines_against}
    return [
        Tie("balance", journal.total("debit"), -journal.total("credit")),
        Tie("sales", papers.in_month("invoice"), journal.moved({rules.owed}, {"invoice"})),
        Tie("net", papers.in_month("line"), -journal.moved(set(rules.sales.values()))),
        Tie("tax", papers.in_month("tax"), -journal.moved({rules.tax})),
        Tie("payments", papers.in_month("payment"), -journal.moved({rules.owed}, {"payment"})),
        Tie(
            "parts-used",
            -papers.in_month("move", LEFT_THE_SHELF),
            -journal.moved({rules.shelf}, used_rules),
        ),
        Tie("machine-costs", papers.in_month("cost"), journal.moved({rules.machines}, costs)),
        Tie("machines-sold", papers.in_month("sale"), -journal.moved({rules.machines}, sold)),
        Tie("machines-given", papers.in_month("disposal"), -journal.moved({rules.machines}, given)),
        Tie(
            "owed",
            papers.through("invoice") - papers.through("payment"),
            journal.balance(rules.owed),
        ),
        Tie("shelf", papers.through("move"), journal.balance(rules.shelf)),
        Tie(
            "machines",
            papers.through("cost") - papers.through("sale") - papers.through("disposal"),
            journal.balance(rules.machines),
        ),
        Tie(
            "pieces",
            papers.through("donor") - papers.through("piece"),
            journal.balance(rules.pieces),
        ),
        Tie("deposits", _still_held(papers), -journal.balance(rules.deposits)),
        *_bought_ties(papers, journal, rules),
    ]


def _bought_ties(papers: _Papers, journal: _Journal, rules: Rules) -> list[Tie]:
    """What was bought and what of it is paid. Money that is held back is owed apart."""
    goods = papers.through("goods") - papers.through("goods-out")
    paid = papers.in_month("seller-payment")
    owed = papers.through("cost", {"purchase"}) + papers.through("goods")
    owed -= papers.through("goods-haul") + papers.through("seller-payment")
    owed -= papers.through("holdback") - papers.through("holdback-end", {"released", "taken-off"})
    held = papers.through("holdback") - papers.through("holdback-end")
    moved = journal.moved({rules.sellers}, {"seller-payment"})
    return [
        Tie("goods", goods, journal.balance(rules.goods)),
        Tie("sellers-paid", paid, moved),
        Tie("sellers", owed, -journal.balance(rules.sellers)),
        Tie("held-back", held, -journal.balance(rules.held_back)),
    ]


def _still_held(papers: _Papers) -> Decimal:
    """Deposits that were neither given back, nor kept, nor taken off an invoice."""
    gone = papers.through("deposit-end", {"returned", "kept"})
    return papers.through("deposit") - gone - papers.through("payment", {Payment.DEPOSIT})


def _pending(month: Month) -> int:
    queries = [
        source.unposted(month.last)
        .order_by()
        .annotate(paper=Value(source.key))
        .values("paper")
        .annotate(count=Count("pk"))
        .values_list("paper", "count")
        for source in SOURCES.values()
    ]
    return sum(count for _paper, count in queries[0].union(*queries[1:], all=True))
