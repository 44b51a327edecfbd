"""What each document does to the accounts: debit positive, credit negative, to the cent.

Which account stands where is data (``fixtures/reference/accounts.toml``); this is the arithmetic.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal


class PostingError(ValueError):
    """A document cannot be posted: a defect of the rules or of the document's own sums."""


@dataclass(frozen=True)
class Line:
    """An amount on an account, by its number: debit positive, credit negative."""

    account: str
    amount: Decimal


@dataclass(frozen=True)
class Rules:
    """The account of every role."""

    owed: str
    tax: str
    sales: Mapping[str, str]
    paid_into: Mapping[str, str]
    shelf: str
    shelf_against: Mapping[str, str]
    machines: str
    machines_against: Mapping[str, str]
    machines_sold: str
    machines_given: Mapping[str, str]
    pieces: str
    pieces_scrapped: str
    deposits: str
    deposits_kept: str
    goods: str
    goods_bought: str
    goods_haul: str
    goods_out: Mapping[str, str]
    sellers: str
    sellers_paid_from: Mapping[str, str]
    held_back: str
    held_back_kept: str

    @property
    def accounts(self) -> set[str]:
        """Every account that a rule names."""
        several = (
            self.sales,
            self.paid_into,
            self.shelf_against,
            self.machines_against,
            self.machines_given,
            self.goods_out,
            self.sellers_paid_from,
        )
        named = {self.owed, self.tax, self.shelf, self.machines, self.machines_sold}
        named |= {self.pieces, self.pieces_scrapped, self.deposits, self.deposits_kept}
        named |= {self.goods, self.goods_bought, self.goods_haul}
        named |= {self.sellers, self.held_back, self.held_back_kept}
        return named.union(*(roles.values() for roles in several))


def read_rules(table: Mapping) -> Rules:
    """Rules from the ``posting`` table of the reference file. Raises PostingError."""
    try:
        return Rules(
            owed=table["invoice"]["owed"],
            tax=table["invoice"]["tax"],
            sales=table["invoice"]["sales"],
            paid_into=table["payment"]["into"],
            shelf=table["stock"]["shelf"],
            shelf_against=table["stock"]["against"],
            machines=table["machine"]["stock"],
            machines_against=table["machine"]["against"],
            machines_sold=table["machine"]["sold"],
            machines_given=table["machine"]["given"],
            pieces=table["donor"]["pieces"],
            pieces_scrapped=table["donor"]["scrapped"],
            deposits=table["deposit"]["held"],
            deposits_kept=table["deposit"]["kept"],
            goods=table["goods"]["stock"],
            goods_bought=table["goods"]["bought"],
            goods_haul=table["goods"]["haul"],
            goods_out=table["goods"]["out"],
            sellers=table["seller"]["owed"],
            sellers_paid_from=table["seller"]["from"],
            held_back=table["seller"]["held"],
            held_back_kept=table["seller"]["kept"],
        )
    except KeyError as error:
        raise PostingError(f"The posting rules name no account for {error}.") from error


def invoice_lines(
    nets: Iterable[tuple[str, Decimal]], taxes: Iterable[Decimal], rules: Rules
) -> tuple[Line, ...]:
    """An invoice from its lines (class, net) and its taxes."""
    nets, taxes = list(nets), list(taxes)
    total = sum((net for _, net in nets), Decimal(0)) + sum(taxes, Decimal(0))
    return balanced(
        [
            Line(rules.owed, total),
            *(Line(_account(rules.sales, line_class), -net) for line_class, net in nets),
            *(Line(rules.tax, -tax) for tax in taxes),
        ]
    )


def payment_lines(method: str, amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A payment; a reversed one has a negative amount. A deposit pays out of what is held."""
    return _moved(_account(rules.paid_into, method), rules.owed, amount)


def stock_lines(reason: str, cost: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A stock move: ``cost`` is positive into the shelf.

    ``reason`` of a part put back is that of the move which took it.
    """
    return _moved(rules.shelf, _account(rules.shelf_against, reason), cost)


def machine_cost_lines(sort: str, amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A cost that goes into one of our machines."""
    return _moved(rules.machines, _account(rules.machines_against, sort), amount)


def machine_sold_lines(cost: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A machine leaving our stock for its buyer, at what it cost us."""
    return _moved(rules.machines_sold, rules.machines, cost)


def machine_given_lines(how: str, cost: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A machine that was donated or scrapped, at what it cost us."""
    return _moved(_account(rules.machines_given, how), rules.machines, cost)


def deposit_lines(method: str, amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A deposit that came in: money that we owe until it is taken off, given back or kept."""
    return _moved(_account(rules.paid_into, method), rules.deposits, amount)


def deposit_end_lines(how: str, method: str, amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A deposit that was given back the way it came, or kept."""
    into = rules.deposits_kept if how == "kept" else _account(rules.paid_into, method)
    return _moved(rules.deposits, into, amount)


def piece_scrapped_lines(cost: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A piece of a donor that was thrown away, at its share of what the donor cost."""
    return _moved(rules.pieces_scrapped, rules.pieces, cost)


def goods_lines(price: Decimal, haul: Decimal, rules: Rules) -> tuple[Line, ...]:
    """Goods that were bought: owed to their seller, and what fetching them cost."""
    return balanced(
        [
            Line(rules.goods, price + haul),
            Line(rules.goods_bought, -price),
            Line(rules.goods_haul, -haul),
        ]
    )


def goods_out_lines(reason: str, cost: Decimal, rules: Rules) -> tuple[Line, ...]:
    """Goods that were sold or lost, at what they cost us."""
    return _moved(_account(rules.goods_out, reason), rules.goods, cost)


def seller_payment_lines(method: str, amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """A payment to a seller; what he pays back has a negative amount."""
    return _moved(rules.sellers, _account(rules.sellers_paid_from, method), amount)


def holdback_lines(amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """Money held back of a price: still owed to the seller, but apart."""
    return _moved(rules.sellers, rules.held_back, amount)


def holdback_end_lines(how: str, amount: Decimal, rules: Rules) -> tuple[Line, ...]:
    """Money held back that was kept for good; else it is plainly owed to the seller again, and what
    is paid out of it is a payment of its own."""
    into = rules.held_back_kept if how == "kept" else rules.sellers
    return _moved(rules.held_back, into, amount)


def balanced(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines with one amount an account and none of zero, which must sum to nothing."""
    amounts: dict[str, Decimal] = {}
    for line in lines:
        amounts[line.account] = amounts.get(line.account, Decimal(0)) + line.amount
    if difference := sum(amounts.values(), Decimal(0)):
        raise PostingError(f"Debits and credits differ by {difference}.")
    return tuple(Line(account, amount) for account, amount in amounts.items() if amount)


def _moved(debit: str, credit: str, amount: Decimal) -> tuple[Line, ...]:
    return balanced([Line(debit, amount), Line(credit, -amount)])


def _account(roles: Mapping[str, str], key: str) -> str:
    try:
        return roles[key]
    except KeyError:
        raise PostingError(f"The posting rules name no account for “{key}”.") from None
