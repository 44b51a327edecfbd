"""The money of a lot: what the seller gets, what is held back, and what is made good afterwards.

It goes the way of every purchase: payments and money held back belong to the till, and the price
becomes a debt when machines and goods are taken in under the lot's document.
"""

import uuid
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.lots.models import Lot, LotMatter, LotStep
from shop.lots.selectors.lots import Standing, standings
from shop.lots.selectors.money import open_balance, price_after
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot, take_step
from shop.till.models import Holdback, HoldbackEnd, SellerPayment
from shop.till.services import (
    BY_TRANSFER,
    Bought,
    Ending,
    Paying,
    end_holdback,
    hold_back,
    pay_seller,
    take_back_payment,
)
from units.rows.services import next_number
from units.show import words
from units.show.words import day, money


@transaction.atomic
def pay_lot(
    *,
    lot: Lot,
    on: date,
    paying: Paying = BY_TRANSFER,
    key: uuid.UUID | None = None,
    note: str = "",
    by: AbstractBaseUser,
    at: datetime,
) -> Lot:
    """Pay the seller what was agreed, less what came off so far and what is held back.

    The same key pays once. Raises LotError while one of the four questions is not answered, and
    for a lot that is paid already; DayClosedError.
    """
    lot = lock_lot(lot)
    key = key or uuid.uuid5(uuid.NAMESPACE_OID, f"lot {lot.pk} paid")
    if lot.is_paid:
        return _paid_before(lot, key)
    require_open(on)
    if lot.state != Lot.State.AGREED:
        raise LotError(_("Agree on a price first."))
    asked = standings(lot.matters.all())
    _refuse_open(asked)
    held = sum((one.answer.held for one in asked), Decimal(0))
    amount = price_after(lot) - held
    if amount < 0:
        raise LotError(_("More is held back than was agreed. Correct one of the two."))
    bought = Bought(lot.seller, give_document(lot))
    act = {"on": on, "by": by, "at": at}
    _hold(asked, bought, key, act)
    if amount:
        pay_seller(bought=bought, amount=amount, paying=paying, key=key, **act)
    take_step(lot, Lot.State.PAID, amount=amount, note=note, **act)
    return lot


def give_document(lot: Lot) -> str:
    """The number under which the lot is bought, from the series of every purchase."""
    if not lot.document:
        lot.document = f"B{next_number('purchase'):05}"
        lot.save(update_fields=["document"])
    return lot.document


def _paid_before(lot: Lot, key: uuid.UUID) -> Lot:
    if SellerPayment.objects.filter(key=key, document=lot.document).exists():
        return lot
    step = LotStep.objects.select_related("recorded_by").get(lot=lot, state=Lot.State.PAID)
    raise LotError(
        _("The seller was paid already, on %(day)s: %(amount)s, written by %(person)s.")
        % {
            "day": day(step.done_on),
            "amount": money(step.amount or Decimal(0)),
            "person": words.person(step.recorded_by),
        }
    )


def _refuse_open(asked: list[Standing]) -> None:
    if still := [one.label for one in asked if one.is_open]:
        raise LotError(
            _("Not before this is answered, or money held back for it: %(questions)s")
            % {"questions": " ".join(map(str, still))}
        )


def _hold(asked: list[Standing], bought: Bought, key: uuid.UUID, act: dict) -> None:
    for one in asked:
        if one.answer.outcome == LotMatter.Outcome.HELD:
            said = ": ".join(filter(None, (one.answer.given_by, one.answer.note)))
            reason = f"{one.label} {said}"
            hold_back(
                bought=bought,
                amount=one.answer.held,
                reason=reason,
                key=uuid.uuid5(key, one.matter),
                **act,
            )


@transaction.atomic
def settle_lot(
    *,
    lot: Lot,
    on: date,
    paying: Paying = BY_TRANSFER,
    key: uuid.UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> SellerPayment:
    """Make good what is open since the price changed at load-out: we pay the rest, or the seller
    pays back what he got too much. The same key does so once.

    Raises LotError where nothing is open, TillError or DayClosedError.
    """
    lot = lock_lot(lot)
    if first := SellerPayment.objects.filter(key=key).first():
        return first
    left = open_balance(lot)
    if not left:
        raise LotError(_("Nothing is open between the seller and us."))
    service = pay_seller if left > 0 else take_back_payment
    bought = Bought(lot.seller, lot.document)
    said = {"bought": bought, "amount": abs(left), "paying": paying, "key": key}
    return service(on=on, by=by, at=at, **said)


@transaction.atomic
def settle_held(
    *,
    lot: Lot,
    holdback: Holdback,
    ending: Ending,
    on: date,
    key: uuid.UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> HoldbackEnd:
    """Pay out, set off or keep money held back of a lot; the same key does so once.

    Set off is at most what the seller owes us; what he owes is not paid out to him. Raises
    LotError, TillError or DayClosedError.
    """
    lot = lock_lot(lot)
    if first := HoldbackEnd.objects.filter(key=key).first():
        return first
    owed = max(-open_balance(lot), Decimal(0))
    if ending.how == HoldbackEnd.How.TAKEN_OFF and ending.amount > owed:
        raise LotError(
            _("The seller owes us %(owed)s. At most that is taken off what is held back.")
            % {"owed": money(owed)},
            "amount",
        )
    if ending.how == HoldbackEnd.How.RELEASED and owed:
        raise LotError(
            _("The seller owes us %(owed)s. Take that off what is held back first.")
            % {"owed": money(owed)},
            "how",
        )
    said = {"holdback": holdback, "ending": ending, "on": on, "key": key}
    return end_holdback(by=by, at=at, **said)
