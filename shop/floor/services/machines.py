"""How machines come, where they stand, how they leave, and what our own cost us."""

from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from parts.days.services import require_open
from parts.stock.models import Donor
from parts.stock.services import StripLine, strip_donor
from shop.floor.models import MachineCost, Move, Spot, Stay
from shop.floor.selectors import costs_so_far
from shop.people.models import Customer
from units.catalogue.models import Unit
from units.show import words
from units.show.words import day

FIRST_YEAR = 1960  # no machine of the trade that still comes in is older; common practice


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
def end_stay(
    *,
    stay: Stay,
    left: str,
    on: date,
    document: str,
    by: AbstractBaseUser,
    fetched: Decimal | None = None,
) -> Stay:
    """A machine leaves under ``document``; a sale says what it fetched, before tax.

    Raises FloorError or DayClosedError.
    """
    require_open(on)
    stay = Stay.objects.select_for_update().get(pk=stay.pk)
    _refuse_leaving(stay, left, on)
    stay.left, stay.left_on, stay.left_document, stay.left_by = left, on, document, by
    stay.fetched = fetched
    stay.save(update_fields=["left", "left_on", "left_document", "left_by", "fetched"])
    return stay


@transaction.atomic
def move_machine(
    *, stay: Stay, spot: Spot, key: UUID, by: AbstractBaseUser, at: datetime
) -> Move | None:
    """A machine is put onto a spot; the same key gives the first move.

    Standing there already it needs no move: None. Raises FloorError.
    """
    stay = Stay.objects.select_for_update().get(pk=stay.pk)
    if first := Move.objects.filter(key=key).first():
        return first
    if stay.left_on:
        raise FloorError(_left_already(stay))
    if not spot.in_use:
        raise FloorError(_("“%(spot)s” is no longer in use. Choose another.") % {"spot": spot})
    if stay.stands_at == spot.name:
        return None
    stay.stands_at = spot.name
    stay.save(update_fields=["stands_at"])
    return Move.objects.create(stay=stay, spot=spot, key=key, moved_at=at, moved_by=by)


@transaction.atomic
def add_spot(*, name: str, sort: str) -> Spot:
    """A spot, or the one of that name, in use again. Raises FloorError."""
    name = " ".join(name.split())
    if not name:
        raise FloorError(_("Give the spot the name that is written there."))
    spot = Spot.objects.filter(name__iexact=name).first() or Spot(name=name)
    spot.sort, spot.in_use = Spot.Sort(sort), True
    spot.save()
    return spot


def close_spot(*, spot: Spot) -> Spot:
    """Nothing is put there any more. Raises FloorError while machines stand on it."""
    standing = Stay.objects.here().filter(stands_at=spot.name).count()
    if standing:
        raise FloorError(
            ngettext(
                "%(count)d machine stands there. Move it first.",
                "%(count)d machines stand there. Move them first.",
                standing,
            )
            % {"count": standing}
        )
    spot.in_use = False
    spot.save(update_fields=["in_use"])
    return spot


def note_year(*, stay: Stay, made_in: int | None, today: date) -> None:
    """Keep the year in which a machine was made, as its plate tells. Raises FloorError."""
    if made_in is not None and not FIRST_YEAR <= made_in <= today.year:
        raise FloorError(
            _("A machine that stands here was made between %(first)s and %(last)s.")
            % {"first": FIRST_YEAR, "last": today.year}
        )
    Stay.objects.filter(pk=stay.pk).update(made_in=made_in)


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
    theirs = {Stay.Left.RETURNED, Stay.Left.OURS}
    if stay.owner_id and left not in theirs:
        raise FloorError(_("This machine is a customer's: it can be handed back, not sold."))
    if not stay.owner_id and left in theirs:
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
