"""Load-out: every machine is scanned and all goods are counted; what is not as bought takes
something off the price."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from parts.days.services import require_open
from shop.floor.domain.goods import cost_of_some
from shop.lots.models import GoodsFound, Lot, LotLine, LotMachine
from shop.lots.selectors import goods_of
from shop.lots.selectors.money import price_after
from shop.lots.selectors.shares import listed_parts
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


@dataclass(frozen=True)
class Count:
    """How much of a line of goods was found, in its measure. ``adjusted`` comes off the agreed
    price; not said, it is in proportion to the line's part of that price."""

    found: Decimal
    adjusted: Decimal | None = None


@transaction.atomic
def scan_machine(
    *, machine: LotMachine, scan: Scan, by: AbstractBaseUser, at: datetime
) -> LotMachine:
    """Write down how a machine was loaded; scanning again corrects it. Raises LotError."""
    lot = lock_lot(machine.line.lot)
    _require_loading(lot)
    machine = LotMachine.objects.select_for_update().get(pk=machine.pk)
    seen = tidy_serial(scan.seen_serial)
    _check(machine, scan, seen)
    machine.fate, machine.seen_serial, machine.adjusted = Fate(scan.fate), seen, scan.adjusted
    machine.volts, machine.plug = scan.volts, scan.plug.strip()[:20]
    machine.console_locked, machine.pin_missing = scan.console_locked, scan.pin_missing
    machine.load_note = scan.note.strip()[:200]
    machine.scanned_at, machine.scanned_by = at, by
    machine.save()
    _require_price(lot, "adjusted")
    return machine


@transaction.atomic
def count_goods(
    *, lot: Lot, counts: Mapping[int, Count], by: AbstractBaseUser, at: datetime
) -> list[GoodsFound]:
    """Write down what was found of lines of goods, by their ids; counting again corrects it, and
    what is said as it stands is left alone.

    Less than is listed is short, nothing is missing; what is over costs no more. Raises LotError,
    its field ``found-`` or ``adjusted-`` and the line's id, and then nothing is written.
    """
    lot = lock_lot(lot)
    _require_loading(lot)
    lines = [line for line in goods_of(lot).filter(pk__in=counts) if _is_news(line, counts)]
    parts = {one.goods.pk: one.share for one in listed_parts(lot) if one.goods} if lines else {}
    seen = []
    for line in lines:
        said = counts[line.pk]
        _check_count(line, said)
        written = {"found": said.found, "adjusted": _off(line, said, parts)}
        written |= {"listed": line.quantity, "counted_at": at, "counted_by": by}
        seen.append(GoodsFound.objects.update_or_create(line=line, defaults=written)[0])
        _require_price(lot, f"adjusted-{line.pk}")
    return seen


def _is_news(line: LotLine, counts: Mapping[int, Count]) -> bool:
    before, said = getattr(line, "at_truck", None), counts[line.pk]
    return before is None or said.adjusted is not None or before.found != said.found


def _check_count(line: LotLine, said: Count) -> None:
    found, off = f"found-{line.pk}", f"adjusted-{line.pk}"
    if said.found < 0:
        raise LotError(_("“%(line)s”: a count is not below nothing.") % {"line": line.text}, found)
    if line.measure == "piece" and said.found != int(said.found):
        raise LotError(_("“%(line)s”: pieces are counted whole.") % {"line": line.text}, found)
    if (said.adjusted or 0) < 0:
        raise LotError(_("What comes off the price is not below nothing."), off)
    if said.adjusted and said.found >= line.quantity:
        raise LotError(_("Nothing of it is short, so nothing comes off the price."), off)


def _off(line: LotLine, said: Count, parts: Mapping[int, Decimal]) -> Decimal:
    """What comes off for what is short: what is said, or its share of the line's part."""
    short = line.quantity - said.found
    if said.adjusted is not None or short <= 0:
        return said.adjusted or Decimal(0)
    if line.pk not in parts:
        raise LotError(
            _(
                "Nobody valued this lot, so the line's part of the price is not known. "
                "Write what comes off."
            ),
            f"adjusted-{line.pk}",
        )
    return cost_of_some(short, line.quantity, parts[line.pk])


def _require_loading(lot: Lot) -> None:
    if not lot.may_be_loaded:
        raise LotError(
            _("Machines are loaded once a price is agreed, and until the lot is loaded.")
        )


def _require_price(lot: Lot, field: str) -> None:
    if price_after(lot) < 0:
        raise LotError(_("More would come off than was agreed. Correct the amount."), field)


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
    """Say that the lot is on the truck. Raises LotError while a machine was not scanned, goods were
    not counted or the seller was not paid, or DayClosedError."""
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
    if left := goods_of(lot).filter(at_truck=None).count():
        raise LotError(
            ngettext(
                "%(count)d line of goods was not counted. Count it; 0 says that it is missing.",
                "%(count)d lines of goods were not counted. Count them; 0 says that it is missing.",
                left,
            )
            % {"count": left}
        )
    take_step(lot, Lot.State.LOADED, on=on, amount=price_after(lot), by=by, at=at)
    return lot
