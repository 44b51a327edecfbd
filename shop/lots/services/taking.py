"""A loaded lot comes into the shop: its machines become ours, each with its share of the price."""

import uuid
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.models import MachineCost, Stay
from shop.floor.services import FloorError, Heap, add_cost, begin_stay, shelve_goods
from shop.lots.models import Lot, LotMachine, LotShare
from shop.lots.selectors.money import price_after
from shop.lots.selectors.shares import Thing, split_of
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot, take_step
from shop.lots.services.paying import give_document
from shop.work.services.intake import JobError, open_own_job, refuse_second_job
from units.catalogue.models import Unit
from units.catalogue.services import (
    CatalogueError,
    SerialError,
    find_or_add_maker,
    find_or_add_model,
    find_or_add_unit,
)

Sort = MachineCost.Sort
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
    give_document(lot)
    for thing in things:
        if thing.goods:
            _shelve(lot, thing, on, by, at)
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
        _cost(stay, thing, document=lot.document, key=key, on=on, by=by, at=at)
        open_own_job(stay=stay, complaint=_complaint(thing.machine), key=key, by=by, at=at)
    except REFUSED as error:
        raise LotError(f"{thing.name}: {error}") from error
    return stay


def _cost(stay: Stay, thing: Thing, *, key: uuid.UUID, **said) -> None:
    """Its share of the price, owed to the seller, and its share of the haul."""
    for sort, amount in ((Sort.PURCHASE, thing.share - thing.haul), (Sort.HAUL, thing.haul)):
        if amount or sort == Sort.PURCHASE:
            add_cost(stay=stay, sort=sort, amount=amount, key=f"{sort} {key}", **said)


def _shelve(lot: Lot, thing: Thing, on: date, by, at: datetime) -> None:
    """What was found of a line of goods comes onto the shelf at its share."""
    line, seen = thing.goods, getattr(thing.goods, "at_truck", None)
    name = line.named if line.text == line.named else f"{line.named}: {line.text}"
    quantity = seen.found if seen else line.quantity  # a lot loaded before goods were counted
    heap = Heap(name, line.measure, quantity, thing.share, thing.haul)
    said = {"document": lot.document, "seller": lot.seller, "key": line.heap_key}
    shelve_goods(heap=heap, on=on, by=by, at=at, **said)


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
