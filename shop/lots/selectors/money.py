"""How we stand with the seller of a lot."""

from dataclasses import dataclass
from decimal import Decimal

from shop.lots.models import GoodsFound, Lot, LotMachine
from shop.till.models import Holdback, SellerPayment
from shop.till.selectors import discharged, holdbacks, seller_payments

ZERO = Decimal(0)


def price_after(lot: Lot) -> Decimal:
    """The agreed price less what came off at load-out, for machines and goods. One query."""
    seen = (LotMachine.objects, GoodsFound.objects)
    machines, goods = (
        rows.filter(line__lot=lot, adjusted__gt=0).order_by().values_list("adjusted", flat=True)
        for rows in seen
    )
    return (lot.agreed or ZERO) - sum(machines.union(goods, all=True), ZERO)


def open_balance(lot: Lot, price: Decimal | None = None) -> Decimal:
    """What we still owe of the price, held money aside; below nothing where the seller owes us.

    Nothing before the seller was paid. Two queries, one where the price after load-out is known.
    """
    if not lot.document:
        return ZERO
    price = price_after(lot) if price is None else price
    return price - discharged([lot.document]).get(lot.document, ZERO)


@dataclass(frozen=True)
class LotMoney:
    """What was paid, what is held back, and what is open between the seller and us."""

    price: Decimal
    payments: list[SellerPayment]
    holdbacks: list[Holdback]
    open: Decimal

    @property
    def paid(self) -> Decimal:
        return sum((one.amount for one in self.payments), ZERO)

    @property
    def held(self) -> Decimal:
        return sum((one.left for one in self.holdbacks), ZERO)

    @property
    def owed_to_us(self) -> Decimal:
        return max(-self.open, ZERO)


def lot_money(lot: Lot) -> LotMoney:
    """Five queries."""
    document = lot.document or ""
    payments, held = list(seller_payments(document)), list(holdbacks(document))
    price = price_after(lot)
    return LotMoney(price, payments, held, open_balance(lot, price))
