"""A loaded lot comes into the shop: its machines become ours, each with its share of the price."""

import uuid
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.models import MachineCost, Stay
from shop.floor.services import FloorError, add_cost, begin_stay
from shop.lots.models import Lot, LotMachine, LotShare
from shop.lots.selectors.shares import Thing, split_of
from shop.lots.services.errors import LotError
from shop.lots.services.loading import price_after
from shop.lots.services.lots import lock_lot, take_step
from shop.work.services.intake import JobError, open_own_job, refuse_second_job
from units.catalogue.models import Unit
from units.catalogue.services import (
    CatalogueError,
    SerialError,
    find_or_add_maker,
    find_or_add_model,
    find_or_add_unit,
)
from units.rows.services import next_number

REFUSED = (FloorError, JobError, CatalogueError, SerialError)


@transaction.atomic
def take_in(*, lot: Lot, haul: Decimal, on: date, by: AbstractBaseUser, at: datetime) -> Lot:
    """Take every loaded machine into our own stock, each with its first job waiting.

    The price after load-out and the haul are split over machines and goods by relative value, so
    that the cents add up. A lot that was taken in already stays as it is. Raises LotError or
    DayClosedError, and then nothing is written.
    """
    lot = lock_lot(lot)
    if lot.state == Lot.State.TAKEN:
        return lot
    require_open(on)
    price = price_after(lot)
    _check(lot, haul)
    things = split_of(lot, price, haul)
    if not things:
        raise LotError(_("Value the lot first: its price is split by what each thing is worth."))
    for thing in things:
        stay = _take(lot, thing, on, by, at) if thing.machine else None
        LotShare.objects.create(
            lot=lot,
            machine=thing.machine,
            goods=thing.goods,
            stay=stay,
            value=thing.value.quantize(Decimal("0.01")),
            share=thing.share,
        )
    take_step(lot, Lot.State.TAKEN, on=on, amount=price + haul, by=by, at=at)
    return lot


def _check(lot: Lot, haul: Decimal) -> None:
    if lot.state != Lot.State.LOADED:
        raise LotError(_("A lot is taken in once it is on the truck. Close the load-out first."))
    if haul < 0:
        raise LotError(_("What the haul cost is not below nothing."), "haul")


def _take(lot: Lot, thing: Thing, on: date, by, at: datetime) -> Stay:
    """One machine becomes ours, with its cost and its first job."""
    try:
        unit = _unit(thing.machine, by, at)
        refuse_second_job(unit)
        stay = begin_stay(
            unit=unit, owner=None, came=Stay.Came.PURCHASE, on=on, by=by, came_from=lot.seller
        )
        key = uuid.uuid5(uuid.NAMESPACE_OID, f"lot machine {thing.machine.pk}")
        add_cost(
            stay=stay,
            sort=MachineCost.Sort.PURCHASE,
            amount=thing.share,
            on=on,
            document=f"B{next_number('purchase'):05}",
            key=f"purchase {key}",
            by=by,
            at=at,
        )
        open_own_job(stay=stay, complaint=_complaint(thing.machine), key=key, by=by, at=at)
    except REFUSED as error:
        raise LotError(f"{thing.name}: {error}") from error
    return stay


def _complaint(machine: LotMachine) -> str:
    """What whoever inspects it has to know: the seller's words and what was seen at load-out."""
    said = [_("Bought in a lot: inspect and put right.")]
    said += [machine.line.note, machine.why_not, machine.load_note]
    return " ".join(filter(None, said))[:400]


def _unit(machine: LotMachine, by, at: datetime) -> Unit:
    """The machine that was met on the floor, unless another came in its place; else a new one."""
    if machine.unit and machine.fate != LotMachine.Fate.SWAPPED:
        return machine.unit
    line = machine.line
    model = line.model.current if line.model else None
    if model is None:
        if not (line.maker and line.number):
            raise LotError(
                _("Say of which maker and model “%(line)s” is, before it is taken in.")
                % {"line": line.text}
            )
        maker = find_or_add_maker(name=line.maker)
        model = find_or_add_model(maker=maker, number=line.number, kind=line.kind)
    serial = machine.seen_serial or machine.serial
    return find_or_add_unit(model=model, serial=serial, by=by, at=at)[0]
