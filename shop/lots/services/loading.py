"""Load-out: every machine is scanned, and what is not as bought takes something off the price."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from parts.days.services import require_open
from shop.lots.models import Lot, LotMachine
from shop.lots.selectors.money import price_after
from shop.lots.services.errors import LotError
from shop.lots.services.lots import lock_lot, take_step
from units.catalogue.domain.keys import match_key
from units.catalogue.services import tidy_serial

Fate = LotMachine.Fate


@dataclass(frozen=True)
class Scan:
    """What was seen of a machine at the truck. ``adjusted`` comes off the agreed price."""

    fate: str
    seen_serial: str = ""
    adjusted: Decimal = Decimal(0)
    volts: int | None = None
    plug: str = ""
    console_locked: bool | None = None
    pin_missing: bool | None = None
    note: str = ""


@transaction.atomic
def scan_machine(
    *, machine: LotMachine, scan: Scan, by: AbstractBaseUser, at: datetime
) -> LotMachine:
    """Write down how a machine was loaded; scanning again corrects it. Raises LotError."""
    lot = lock_lot(machine.line.lot)
    if not lot.may_be_loaded:
        raise LotError(
            _("Machines are loaded once a price is agreed, and until the lot is loaded.")
        )
    machine = LotMachine.objects.select_for_update().get(pk=machine.pk)
    seen = tidy_serial(scan.seen_serial)
    _check(machine, scan, seen)
    machine.fate, machine.seen_serial, machine.adjusted = Fate(scan.fate), seen, scan.adjusted
    machine.volts, machine.plug = scan.volts, scan.plug.strip()[:20]
    machine.console_locked, machine.pin_missing = scan.console_locked, scan.pin_missing
    machine.load_note = scan.note.strip()[:200]
    machine.scanned_at, machine.scanned_by = at, by
    machine.save()
    if price_after(lot) < 0:
        raise LotError(_("More would come off than was agreed. Correct the amount."), "adjusted")
    return machine


def _check(machine: LotMachine, scan: Scan, seen: str) -> None:
    if scan.adjusted < 0:
        raise LotError(_("What comes off the price is not below nothing."), "adjusted")
    if scan.adjusted and scan.fate == Fate.LOADED:
        raise LotError(
            _("It is loaded as bought: say what is wrong with it, or take nothing off."), "adjusted"
        )
    other = bool(seen and machine.serial and match_key(seen) != match_key(machine.serial))
    if other and scan.fate in (Fate.LOADED, Fate.STRIPPED):
        raise LotError(
            _(
                "Serial %(seen)s is not the one on the list (%(listed)s). "
                "If it is another machine, say that it was swapped."
            )
            % {"seen": seen, "listed": machine.serial},
            "seen_serial",
        )
    if scan.fate == Fate.SWAPPED and not seen:
        raise LotError(_("Scan or type the serial number of the other machine."), "seen_serial")


@transaction.atomic
def close_loading(*, lot: Lot, on: date, by: AbstractBaseUser, at: datetime) -> Lot:
    """Say that the lot is on the truck. Raises LotError while a machine was not scanned or the
    seller was not paid, or DayClosedError."""
    lot = lock_lot(lot)
    require_open(on)
    if lot.state != Lot.State.PAID:
        raise LotError(_("The seller is paid before the truck leaves. Write down the payment."))
    if left := LotMachine.objects.filter(line__lot=lot, fate="").count():
        raise LotError(
            ngettext(
                "%(count)d machine was not scanned. Scan it, or say that it is missing.",
                "%(count)d machines were not scanned. Scan them, or say that they are missing.",
                left,
            )
            % {"count": left}
        )
    take_step(lot, Lot.State.LOADED, on=on, amount=price_after(lot), by=by, at=at)
    return lot
