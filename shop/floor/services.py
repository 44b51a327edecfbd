"""How machines come and leave, and what our own cost us."""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from parts.stock.models import Donor
from parts.stock.services import StripLine, strip_donor
from shop.floor.models import MachineCost, Stay
from shop.floor.selectors import costs_so_far
from shop.people.models import Customer
from units.catalogue.models import Unit
from units.show import words
from units.show.words import day


class FloorError(ValueError):
    """A machine cannot come, leave or cost so; the text is a sentence to show."""


@transaction.atomic
def begin_stay(
    *,
    unit: Unit,
    owner: Customer | None,
    came: str,
    on: date,
    by: AbstractBaseUser,
    came_from: Customer | None = None,
    stands_at: str = "",
) -> Stay:
    """A machine comes: for repair (``owner``), or into our own stock (no owner).

    Raises FloorError when it is here already or a bought machine has an owner; DayClosedError.
    """
    require_open(on)
    Unit.objects.select_for_update().get(pk=unit.pk)
    if owner and came == Stay.Came.PURCHASE:
        raise FloorError(_("A machine that we bought is our own: leave the owner empty."))
    here = Stay.objects.here().filter(unit=unit).first()
    if here:
        raise FloorError(
            _("This machine has been here since %(day)s. Hand it back or sell it first.")
            % {"day": day(here.came_on)}
        )
    return Stay.objects.create(
        unit=unit,
        owner=owner,
        came=came,
        came_on=on,
        came_by=by,
        came_from=came_from,
        stands_at=stands_at,
    )


@transaction.atomic
def end_stay(*, stay: Stay, left: str, on: date, document: str, by: AbstractBaseUser) -> Stay:
    """A machine leaves: handed back or sold, under ``document``.

    Raises FloorError or DayClosedError.
    """
    require_open(on)
    stay = Stay.objects.select_for_update().get(pk=stay.pk)
    _refuse_leaving(stay, left, on)
    stay.left, stay.left_on, stay.left_document, stay.left_by = left, on, document, by
    stay.save(update_fields=["left", "left_on", "left_document", "left_by"])
    return stay


@transaction.atomic
def add_cost(
    *,
    stay: Stay,
    sort: str,
    amount: Decimal,
    on: date,
    document: str,
    key: str,
    by: AbstractBaseUser,
    at: datetime,
) -> MachineCost:
    """Write down what one of our own machines cost; the same key gives the first row.

    A negative amount takes a cost back. Raises FloorError or DayClosedError.
    """
    stay = Stay.objects.select_for_update().get(pk=stay.pk)
    if first := MachineCost.objects.filter(key=key).first():
        return first
    require_open(on)
    if stay.owner_id:
        raise FloorError(_("This machine is a customer's: its cost goes on the invoice."))
    if stay.left_on:
        raise FloorError(_left_already(stay))
    return MachineCost.objects.create(
        stay=stay,
        sort=sort,
        amount=amount,
        spent_on=on,
        document=document,
        key=key,
        recorded_at=at,
        recorded_by=by,
    )


@transaction.atomic
def strip_machine(
    *, stay: Stay, lines: Sequence[StripLine], on: date, document: str, key: UUID, by, at: datetime
) -> Donor:
    """One of our own machines becomes a donor: what it cost us goes to its pieces, and it leaves.

    The same key gives the first donor. Raises FloorError, StripError or DayClosedError.
    """
    stay = Stay.objects.select_for_update().select_related("unit").get(pk=stay.pk)
    if stay.owner_id:
        raise FloorError(_("This machine is a customer's: it is not ours to take apart."))
    cost = costs_so_far([stay])[stay.pk]
    donor = strip_donor(
        unit=stay.unit, lines=lines, cost=cost, on=on, document=document, by=by, at=at, key=key
    )
    if stay.left_on and stay.left == Stay.Left.STRIPPED:
        return donor
    if cost:
        add_cost(
            stay=stay,
            sort=MachineCost.Sort.STRIPPED,
            amount=-cost,
            on=on,
            document=document,
            key=f"stripped-{stay.pk}",
            by=by,
            at=at,
        )
    end_stay(stay=stay, left=Stay.Left.STRIPPED, on=on, document=document, by=by)
    return donor


def _refuse_leaving(stay: Stay, left: str, on: date) -> None:
    if stay.left_on:
        raise FloorError(_left_already(stay))
    if stay.owner_id and left != Stay.Left.RETURNED:
        raise FloorError(_("This machine is a customer's: it can be handed back, not sold."))
    if not stay.owner_id and left == Stay.Left.RETURNED:
        raise FloorError(_("This machine is our own: there is nobody to hand it back to."))
    if on < stay.came_on:
        raise FloorError(
            _("The machine came on %(day)s and cannot leave before that.")
            % {"day": day(stay.came_on)}
        )


def _left_already(stay: Stay) -> str:
    return _("This machine left on %(day)s under %(document)s, written by %(person)s.") % {
        "day": day(stay.left_on),
        "document": stay.left_document or "–",
        "person": words.person(stay.left_by),
    }
