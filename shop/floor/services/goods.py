"""Goods without serials: how they come onto the shelf, where they stand, how they leave."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.domain.goods import cost_of_some
from shop.floor.models import Goods, GoodsOut, Measure, Spot
from shop.floor.services.machines import FloorError
from shop.people.models import Customer
from units.rows.services import next_number
from units.show.words import counted, day


@dataclass(frozen=True)
class Heap:
    """Goods bought at once: how many of which measure, and their cost with ``haul`` in it."""

    name: str
    measure: str
    quantity: Decimal
    cost: Decimal
    haul: Decimal = Decimal(0)


@dataclass(frozen=True)
class Leaving:
    """So much of some goods leaves under a document; what is lost says why."""

    quantity: Decimal
    reason: str
    document: str = ""
    note: str = ""


@transaction.atomic
def shelve_goods(
    *,
    heap: Heap,
    document: str,
    seller: Customer,
    on: date,
    key: str,
    by: AbstractBaseUser,
    at: datetime,
) -> Goods:
    """Goods come into our own stock; the same key gives the first. Raises DayClosedError."""
    if first := Goods.objects.filter(key=key).first():
        return first
    require_open(on)
    return Goods.objects.create(
        number=f"L{next_number('goods'):05}",
        key=key,
        name=heap.name[:200],
        measure=Measure(heap.measure),
        quantity=heap.quantity,
        cost=heap.cost,
        haul=heap.haul,
        document=document,
        came_from=seller,
        came_on=on,
        recorded_at=at,
        recorded_by=by,
    )


@transaction.atomic
def put_goods(*, goods: Goods, spot: Spot) -> Goods:
    """Goods are put onto a spot. Raises FloorError."""
    goods = Goods.objects.select_for_update().get(pk=goods.pk)
    if not spot.in_use:
        raise FloorError(_("“%(spot)s” is no longer in use. Choose another.") % {"spot": spot})
    goods.spot = spot
    goods.save(update_fields=["spot"])
    return goods


@transaction.atomic
def take_goods(
    *,
    goods: Goods,
    leaving: Leaving,
    on: date,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> GoodsOut:
    """Some of the goods leave at their share of the cost; the same key gives the first.

    Raises FloorError or DayClosedError.
    """
    Goods.objects.select_for_update().get(pk=goods.pk)
    if first := GoodsOut.objects.filter(key=key).first():
        return first
    require_open(on)
    goods = Goods.objects.with_rest().get(pk=goods.pk)
    _check_leaving(goods, leaving, on)
    return GoodsOut.objects.create(
        goods=goods,
        key=key,
        reason=GoodsOut.Reason(leaving.reason),
        quantity=leaving.quantity,
        cost=cost_of_some(leaving.quantity, goods.left, goods.cost_left),
        document=leaving.document or goods.number,
        note=leaving.note.strip()[:200],
        left_on=on,
        recorded_at=at,
        recorded_by=by,
    )


def _check_leaving(goods: Goods, leaving: Leaving, on: date) -> None:
    if leaving.reason == GoodsOut.Reason.LOST and not leaving.note.strip():
        raise FloorError(_("Write down what became of them."))
    if not 0 < leaving.quantity <= goods.left:
        raise FloorError(
            _("Left of %(goods)s: %(left)s. Enter that much or less.")
            % {"left": counted(goods.left, goods.measure), "goods": goods.name}
        )
    latest = goods.outs.order_by("-left_on").values_list("left_on", flat=True).first()
    if on < (latest or goods.came_on):
        raise FloorError(
            _("They came, or last left, on %(day)s. Nothing leaves before that.")
            % {"day": day(latest or goods.came_on)}
        )
