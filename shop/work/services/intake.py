"""A machine comes in: one transaction for customer, machine, plate, pictures and job."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.days.services import require_open
from shop.floor.models import MachineCost, Stay
from shop.floor.services import add_cost, begin_stay
from shop.people.models import Customer
from shop.people.services import save_customer
from shop.work.models import CameAlong, Step, WorkOrder
from shop.work.services.errors import JobError
from shop.work.services.promising import promise_day
from units.catalogue.models import Kind, MachineModel, Unit
from units.catalogue.services import (
    add_photo,
    find_or_add_maker,
    find_or_add_model,
    find_or_add_unit,
)
from units.files.services import store_picture
from units.plates.models import PlateReading
from units.plates.services import ask_reading, record_plate
from units.rows.services import next_number


@dataclass(frozen=True)
class Person:
    """A customer we know, or the name and telephone number of a new one."""

    known: Customer | None = None
    name: str = ""
    phone: str = ""


@dataclass(frozen=True)
class Machine:
    """What a person read on the plate, and the pictures: uploads, not yet stored.

    ``reading`` is the plate's photo when it was sent beforehand; ``plate_photo`` comes along.
    """

    maker: str
    number: str
    serial: str
    kind: Kind | None = None
    plate_photo: Any = None
    reading: PlateReading | None = None
    arrival_photos: Sequence[Any] = ()


@dataclass(frozen=True)
class Errand:
    """What the customer told us at the counter."""

    complaint: str
    came_along: Sequence[str] = ()
    arrival_note: str = ""
    spend_limit: Decimal | None = None
    promised_on: Any = None


def log_in(
    *,
    person: Person,
    machine: Machine,
    errand: Errand,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> WorkOrder:
    """Open a customer's job. The same key twice gives the first job again.

    Raises JobError, SerialError, FileRefusedError, PhoneError or DayClosedError; then nothing
    is kept.
    """
    try:
        with transaction.atomic():
            return _log_in_once(person, machine, errand, key, by, at)
    except (IntegrityError, ValueError):
        # The other half of a double press may have been quicker: then that one stands.
        job = WorkOrder.objects.filter(key=key).first()
        if job is None:
            raise
        return job


def _log_in_once(person, machine, errand, key, by, at) -> WorkOrder:
    if job := WorkOrder.objects.filter(key=key).first():
        return job
    on = timezone.localdate(at)
    require_open(on)
    unit = _take_unit(machine, by, at)
    refuse_second_job(unit)
    owner = _take_person(person, on)
    stay = take_stay(unit, owner, on, by)
    job = open_job(
        WorkOrder(
            key=key,
            purpose=WorkOrder.Purpose.CUSTOMER,
            unit=unit,
            stay=stay,
            owner=owner,
            complaint=errand.complaint,
            arrival_note=errand.arrival_note,
            spend_limit=errand.spend_limit,
        ),
        by,
        at,
    )
    CameAlong.objects.bulk_create(CameAlong(job=job, thing=thing) for thing in errand.came_along)
    if errand.promised_on:
        promise_day(job=job, promised_on=errand.promised_on, by=by, at=at)
    _keep_pictures(unit, machine, job.number, by, at)
    return job


def open_own_job(
    *, stay: Stay, complaint: str, key: UUID, by: AbstractBaseUser, at: datetime
) -> WorkOrder:
    """Open a job on a machine of our own that stands here."""
    with transaction.atomic():
        if job := WorkOrder.objects.filter(key=key).first():
            return job
        stay = Stay.objects.select_for_update().get(pk=stay.pk)
        if stay.owner_id or stay.left_on:
            raise JobError(_("This machine is not in our own stock now."))
        refuse_second_job(stay.unit)
        job = WorkOrder(
            key=key,
            purpose=WorkOrder.Purpose.OWN,
            unit=stay.unit,
            stay=stay,
            complaint=complaint,
        )
        return open_job(job, by, at)


def buy_machine(
    *,
    seller: Person,
    machine: Machine,
    price: Decimal,
    came_along: Sequence[str] = (),
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> Stay:
    """Take a machine into our own stock and open its first job. The same key gives the first."""
    try:
        with transaction.atomic():
            return _bought(key) or _buy_once(seller, machine, price, came_along, key, by, at)
    except (IntegrityError, ValueError):
        # As in log_in: the other half of a double press may have been quicker.
        stay = _bought(key)
        if stay is None:
            raise
        return stay


def _bought(key: UUID) -> Stay | None:
    cost = MachineCost.objects.filter(key=f"purchase {key}").select_related("stay").first()
    return cost and cost.stay


def _buy_once(seller, machine, price, came_along, key, by, at) -> Stay:
    on = timezone.localdate(at)
    unit = _take_unit(machine, by, at)
    refuse_second_job(unit)
    if Stay.objects.here().filter(unit=unit).exists():
        raise JobError(_("This machine stands here already; see its page."))
    stay = begin_stay(
        unit=unit,
        owner=None,
        came=Stay.Came.PURCHASE,
        on=on,
        by=by,
        came_from=_take_person(seller, on),
    )
    number = f"B{next_number('purchase'):05}"
    add_cost(
        stay=stay,
        sort=MachineCost.Sort.PURCHASE,
        amount=price,
        on=on,
        document=number,
        key=f"purchase {key}",
        by=by,
        at=at,
    )
    _keep_pictures(unit, machine, number, by, at)
    job = open_own_job(
        stay=stay, complaint=_("Bought: inspect and put right."), key=key, by=by, at=at
    )
    CameAlong.objects.bulk_create(CameAlong(job=job, thing=thing) for thing in came_along)
    return stay


def _take_unit(machine: Machine, by, at) -> Unit:
    maker = find_or_add_maker(name=machine.maker)
    model: MachineModel = find_or_add_model(maker=maker, number=machine.number, kind=machine.kind)
    unit, _added = find_or_add_unit(model=model, serial=machine.serial, by=by, at=at)
    return Unit.objects.select_for_update().get(pk=unit.pk)


def refuse_second_job(unit: Unit) -> None:
    job = unit.jobs.open().first()
    if job:
        raise JobError(
            _("Job %(number)s is already open for this machine. Go on with that one.")
            % {"number": job.number},
            job=job,
        )


def _take_person(person: Person, on) -> Customer:
    return person.known or save_customer(
        name=person.name,
        sort=Customer.Sort.PERSON,
        phone=person.phone,
        email="",
        note="",
        known_since=on,
    )


def take_stay(unit: Unit, owner: Customer, on, by) -> Stay:
    stay = Stay.objects.here().filter(unit=unit).select_related("owner").first()
    if stay is None:
        return begin_stay(unit=unit, owner=owner, came=Stay.Came.REPAIR, on=on, by=by)
    if stay.owner_id == owner.pk:
        return stay
    if stay.owner_id is None:
        raise JobError(
            _("This machine is in our own stock. Open a job for it from its own page instead.")
        )
    raise JobError(
        _("This machine stands here for %(owner)s. Hand it back first, or correct the serial.")
        % {"owner": stay.owner}
    )


def open_job(job: WorkOrder, by, at, note: str = "") -> WorkOrder:
    """Number and write a new job, with its first step."""
    job.number = f"J{next_number('job'):05}"
    job.opened_on, job.opened_at, job.opened_by = timezone.localdate(at), at, by
    job.state, job.state_since = WorkOrder.State.LOGGED, at
    job.save()
    Step.objects.create(job=job, to_state=job.state, note=note[:400], taken_at=at, taken_by=by)
    return job


def _keep_pictures(unit: Unit, machine: Machine, document: str, by, at) -> None:
    _keep_plate(unit, machine, by, at)
    for upload in machine.arrival_photos:
        add_photo(
            unit=unit,
            file=store_picture(upload=upload, by=by, at=at),
            shows="arrival",
            document=document,
            by=by,
            at=at,
        )


def _keep_plate(unit: Unit, machine: Machine, by, at) -> None:
    reading = machine.reading
    if machine.plate_photo:
        # Read for the record only: a person has typed what it says.
        reading = ask_reading(upload=machine.plate_photo, urgent=False, by=by, at=at)
    if reading is None or unit.plates.filter(reading=reading).exists():
        return
    record_plate(
        unit=unit,
        photo=reading.photo,
        maker_text=machine.maker,
        model_text=machine.number,
        serial_text=machine.serial,
        reading=reading,
        by=by,
        at=at,
    )
