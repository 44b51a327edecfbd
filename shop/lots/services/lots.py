"""A lot from the seller's offer to the price."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from parts.days.services import require_open
from shop.lots.models import Lot, LotLine, LotMachine, LotMatter, LotSource, LotStep
from shop.lots.selectors import open_lines
from shop.lots.services.errors import LotError
from shop.people.models import Customer
from shop.people.services import read_phone, save_customer

State = Lot.State
MOST_MACHINES = 3000


@dataclass(frozen=True)
class Offered:
    """What a seller says of the whole: ``asked`` is empty where he asks for our price.

    ``kilometres`` one way, ``steps`` between the machines and the truck.
    """

    title: str
    offered_on: date
    asked: Decimal | None = None
    remove_by: date | None = None
    kilometres: int | None = None
    steps: int | None = None
    has_power: bool | None = None


@transaction.atomic
def open_lot(
    *, seller: Customer, offered: Offered, key: UUID, by: AbstractBaseUser, at: datetime
) -> Lot:
    """Write down what a seller offers; lines follow. The same key twice gives the first lot again.

    Raises LotError, and then nothing is written.
    """
    _check(offered)
    said = vars(offered) | {"title": " ".join(offered.title.split())}
    defaults = said | {"seller": seller, "recorded_at": at, "recorded_by": by}
    lot, added = Lot.objects.get_or_create(key=key, defaults=defaults)
    if added:
        take_step(lot, State.LISTING, on=offered.offered_on, by=by, at=at)
    return lot


def seller_of(*, name: str, phone: str, on: date) -> Customer:
    """The customer of this name and telephone number, or a new one. Raises LotError or PhoneError.

    Without a number a name that only one customer has is that customer.
    """
    name = " ".join(name.split())
    number = read_phone(phone)
    known = Customer.objects.filter(name__iexact=name)
    known = list(known.filter(phone=number) if number else known)
    if len(known) > 1:
        raise LotError(
            _("Several customers are called %(name)s. Enter the telephone number too.")
            % {"name": name},
            "phone",
        )
    if known:
        return known[0]
    return save_customer(
        name=name, sort=Customer.Sort.COMPANY, phone=phone, email="", note="", known_since=on
    )


def _check(offered: Offered) -> None:
    if not offered.title.strip():
        raise LotError(_("Give the lot a title, such as the seller's name and the town."), "title")
    if offered.asked is not None and offered.asked < 0:
        raise LotError(_("The asked price is below nothing. Enter what the seller asks."), "asked")
    if offered.remove_by and offered.remove_by < offered.offered_on:
        raise LotError(
            _("The machines cannot be due to leave before they were offered."), "remove_by"
        )


def take_step(lot: Lot, state: str, *, on: date, by, at, amount=None, note="") -> LotStep:
    """Bring a lot on by one step, within the transaction of the caller."""
    lot.state = state
    lot.save(update_fields=["state"])
    return LotStep.objects.create(
        lot=lot,
        state=state,
        amount=amount,
        note=note.strip(),
        done_on=on,
        recorded_at=at,
        recorded_by=by,
    )


def lock_lot(lot: Lot) -> Lot:
    """The lot as it stands, locked until the transaction ends."""
    return Lot.objects.select_for_update().get(pk=lot.pk)


def require_changeable(lot: Lot) -> None:
    """Raises LotError once a price hangs on the list."""
    if not lot.may_change:
        raise LotError(
            _("The lot is “%(state)s”: its list can no longer be changed.")
            % {"state": lot.get_state_display()}
        )


@transaction.atomic
def confirm_list(*, lot: Lot, on: date, by: AbstractBaseUser, at: datetime) -> Lot:
    """Say that the list is right. Every machine of it becomes one to look at and to scan.

    Raises LotError while a list is being read or a line waits, and for a list without a line.
    """
    lot = lock_lot(lot)
    require_changeable(lot)
    _require_settled(lot)
    lines = lot.lines.filter(state=LotLine.State.CONFIRMED)
    if not lines:
        raise LotError(_("The list has no line yet. Send a list, or add a line by hand."))
    for line in lines.filter(sort=LotLine.Sort.MACHINE):
        spread_machines(line)
    if lot.state == State.LISTING:
        take_step(lot, State.LISTED, on=on, by=by, at=at)
    return lot


def _require_settled(lot: Lot) -> None:
    waiting = [LotSource.State.WAITING, LotSource.State.READING]
    if lot.sources.filter(state__in=waiting).exists():
        raise LotError(_("A list is still being read. Wait until it is, then look at its lines."))
    if count := open_lines(lot):
        raise LotError(
            ngettext(
                "%(count)d line waits to be confirmed or left out.",
                "%(count)d lines wait to be confirmed or left out.",
                count,
            )
            % {"count": count}
        )


def spread_machines(line: LotLine) -> None:
    """As many machines as the line counts, each with its serial number; nothing looked at is lost.

    Raises LotError when fewer are counted than were looked at already.
    """
    there = {one.place: one for one in line.machines.all()}
    spare = [one for place, one in there.items() if place > line.count]
    if any(one.looked_at or one.scanned_at for one in spare):
        raise LotError(
            _("More machines of “%(line)s” were looked at than it counts. Raise the count.")
            % {"line": line.text},
            "count",
        )
    LotMachine.objects.filter(pk__in=[one.pk for one in spare]).delete()
    serials = dict(enumerate(line.serials, start=1))
    LotMachine.objects.bulk_create(
        LotMachine(
            line=line,
            place=place,
            serial=serials.get(place, "")[:60],
            hours=line.hours if line.count == 1 else None,
        )
        for place in range(1, line.count + 1)
        if place not in there
    )


@transaction.atomic
def agree_price(
    *, lot: Lot, price: Decimal, on: date, note: str = "", by: AbstractBaseUser, at: datetime
) -> Lot:
    """Write down the price that both sides agreed on. Raises LotError or DayClosedError."""
    lot = lock_lot(lot)
    require_open(on)
    if lot.state not in (State.LISTED, State.AGREED):
        raise LotError(_("Confirm the list first: a price is agreed for what stands on it."))
    if price < 0:
        raise LotError(_("A price is not below nothing."), "price")
    lot.agreed = price
    lot.save(update_fields=["agreed"])
    take_step(lot, State.AGREED, on=on, amount=price, note=note, by=by, at=at)
    return lot


@transaction.atomic
def walk_away(*, lot: Lot, why: str, on: date, by: AbstractBaseUser, at: datetime) -> Lot:
    """Leave a lot to others, with the reason. Raises LotError without one, or once it is paid."""
    lot = lock_lot(lot)
    if not why.strip():
        raise LotError(_("Say why we walk away: the next lot of this seller starts there."), "why")
    if lot.state not in (State.LISTING, State.LISTED, State.AGREED):
        raise LotError(_("The lot is paid already. What does not come is written at load-out."))
    take_step(lot, State.LEFT, on=on, note=why, by=by, at=at)
    return lot


@dataclass(frozen=True)
class Answer:
    """What was learnt of a question before payment, by whom it was said, and what is held back."""

    matter: str
    outcome: str
    given_by: str
    held: Decimal = Decimal(0)
    note: str = ""


@transaction.atomic
def answer_matter(*, lot: Lot, answer: Answer, by: AbstractBaseUser, at: datetime) -> LotMatter:
    """Write down an answer; earlier ones stay. Raises LotError."""
    lot = lock_lot(lot)
    held = answer.held if answer.outcome == LotMatter.Outcome.HELD else Decimal(0)
    if answer.outcome == LotMatter.Outcome.HELD and held <= 0:
        raise LotError(_("Say how much is held back until it is settled."), "held")
    if answer.outcome == LotMatter.Outcome.HELD and lot.is_paid:
        raise LotError(_("The seller is paid already: nothing more can be held back."), "outcome")
    if not answer.given_by.strip():
        raise LotError(_("Say who said it, so that it can be asked for again."), "given_by")
    return LotMatter.objects.create(
        lot=lot,
        matter=LotMatter.Matter(answer.matter),
        outcome=LotMatter.Outcome(answer.outcome),
        held=held,
        given_by=" ".join(answer.given_by.split()),
        note=answer.note.strip(),
        recorded_at=at,
        recorded_by=by,
    )
