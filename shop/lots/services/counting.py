"""Counting again on the seller's floor what the list says there is."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.lots.models import Lot, LotLine, LotMachine
from shop.lots.services.errors import LotError
from shop.lots.services.lines import drop_line
from shop.lots.services.lots import lock_lot, require_changeable, spread_machines


@transaction.atomic
def count_lines(
    *, lot: Lot, counts: Mapping[int, Decimal], by: AbstractBaseUser, at: datetime
) -> list[LotLine]:
    """Write down how much of each line (by its id) really stands there: machines, or goods in the
    line's measure; nothing of it leaves the line out. What is as it was is left alone.

    Raises LotError, and then nothing is changed.
    """
    lot = lock_lot(lot)
    require_changeable(lot)
    if lot.state != Lot.State.LISTED:
        raise LotError(_("Confirm the list first; then its machines can be counted."))
    lines = lot.lines.select_for_update(of=("self",)).filter(pk__in=counts)
    lines = lines.filter(state=LotLine.State.CONFIRMED).select_related("row").order_by("position")
    changed = [line for line in lines if counts[line.pk] != amount_of(line)]
    for line in changed:
        _count(line, counts[line.pk], by, at)
    return changed


def amount_of(line: LotLine) -> Decimal:
    """How many machines, or how much of its measure, a line counts."""
    return line.quantity if line.sort == LotLine.Sort.GOODS else Decimal(line.count)


def _count(line: LotLine, counted: Decimal, by: AbstractBaseUser, at: datetime) -> None:
    if counted < 0:
        raise LotError(_("“%(line)s”: a count is not below nothing.") % {"line": line.text})
    if not counted:
        drop_line(line=line, by=by, at=at)
        return
    if line.sort == LotLine.Sort.GOODS:
        line.quantity = counted
        line.pieces = int(counted) if line.measure == "piece" else line.pieces
    else:
        _count_machines(line, counted)
    line.settled_at, line.settled_by = at, by
    line.save()
    if line.sort == LotLine.Sort.MACHINE:
        spread_machines(line)


def _count_machines(line: LotLine, counted: Decimal) -> None:
    if counted != int(counted):
        raise LotError(_("“%(line)s”: machines are counted whole.") % {"line": line.text})
    machines = list(line.machines.order_by("place"))
    spare = [one for one in machines if not one.looked_at]
    over = len(machines) - int(counted)
    if over > len(spare):
        raise LotError(
            _("“%(line)s”: %(seen)d of its machines were looked at, so there are no fewer.")
            % {"line": line.text, "seen": len(machines) - len(spare)}
        )
    if over > 0:
        gone = {one.pk for one in spare[-over:]}
        LotMachine.objects.filter(pk__in=gone).delete()
        machines = [one for one in machines if one.pk not in gone]
        for place, one in enumerate(machines, start=1):  # upwards, so that no place is there twice
            LotMachine.objects.filter(pk=one.pk).update(place=place)
        line.serials = [one.serial for one in machines if one.serial]
    line.count = int(counted)
