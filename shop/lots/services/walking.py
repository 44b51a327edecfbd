"""Walking a seller's floor with a phone: what each machine is, whether it runs, and why not."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.lots.models import LotMachine
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot
from units.catalogue.services import find_or_add_unit, tidy_serial
from units.inspections.models import Inspection, Protocol
from units.inspections.models.outcomes import Population
from units.inspections.services import open_inspection
from units.plates.services import ask_reading

NOT_RUN = (LotMachine.Ran.DEAD, LotMachine.Ran.APART)


@dataclass(frozen=True)
class Look:
    """What somebody found on the floor. ``photo`` is an upload of the plate."""

    ran: str
    why_not: str = ""
    serial: str = ""
    hours: int | None = None
    photo: Any = None


@transaction.atomic
def record_look(
    *, machine: LotMachine, look: Look, by: AbstractBaseUser, at: datetime
) -> LotMachine:
    """Write down what was found of one machine; looking again replaces what was found before.

    Raises LotError, SerialError or FileRefusedError.
    """
    lock_lot(machine.line.lot)
    machine = LotMachine.objects.select_for_update().get(pk=machine.pk)
    if machine.scanned_at:
        raise LotError(_("This machine was scanned at load-out already."))
    if look.ran in NOT_RUN and not look.why_not.strip():
        raise LotError(_("Say why it was not run: no power, no cord, in pieces …"), "why_not")
    machine.ran = LotMachine.Ran(look.ran)
    machine.why_not = look.why_not.strip()[:200]
    machine.serial = tidy_serial(look.serial) or machine.serial
    machine.hours = look.hours if look.hours is not None else machine.hours
    machine.by_odds = machine.by_odds and look.ran in NOT_RUN
    if look.photo:
        machine.reading = ask_reading(upload=look.photo, by=by, at=at)
    machine.looked_at, machine.looked_by = at, by
    machine.save()
    return machine


@transaction.atomic
def value_by_odds(*, machine: LotMachine, yes: bool) -> LotMachine:
    """The owner's express choice to value a machine that was not run by the odds all the same.

    Raises LotError where it is no choice.
    """
    machine = LotMachine.objects.select_for_update().get(pk=machine.pk)
    if yes and machine.ran not in NOT_RUN:
        raise LotError(_("Only of a machine that was not run this is a choice."))
    machine.by_odds = yes
    machine.save(update_fields=["by_odds"])
    return machine


@transaction.atomic
def inspect_on_site(*, machine: LotMachine, by: AbstractBaseUser, at: datetime) -> Inspection:
    """Open the short inspection of a club's machine, or give the open one.

    Raises LotError where the model is not known, SerialError or InspectionError.
    """
    lock_lot(machine.line.lot)
    machine = (
        LotMachine.objects.select_for_update(of=("self",))
        .select_related("line__model")
        .get(pk=machine.pk)
    )
    model = machine.line.model
    if model is None:
        raise LotError(_("Say first which model it is: the inspection follows its kind."))
    if machine.unit is None:
        machine.unit, _added = find_or_add_unit(
            model=model.current, serial=machine.serial, by=by, at=at
        )
        machine.save(update_fields=["unit"])
    return open_inspection(
        unit=machine.unit,
        occasion=Protocol.Occasion.CLUB,
        document=document_of(machine),
        population=Population.CLUB,
        by=by,
        at=at,
    )


def document_of(machine: LotMachine) -> str:
    """What an inspection on a seller's floor is for."""
    return f"lot {machine.line.lot_id}"
