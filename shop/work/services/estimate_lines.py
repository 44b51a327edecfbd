"""Lines of a draft are added, changed and dropped by hand."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.db.models import Max
from django.utils.translation import gettext as _

from parts.buying.selectors import expected_costs
from parts.fits.models import Part
from shop.till.domain.pricing import labour_price, line_net, part_price
from shop.till.models import LineClass
from shop.till.selectors import price_rules
from shop.work.models import Estimate, EstimateLine
from shop.work.services.errors import JobError
from units.catalogue.models import Component
from units.show.words import moment


@dataclass(frozen=True)
class Wanted:
    """A line as a person wants it. Without a price a part is priced by its cost and the mark-up,
    labour by its minutes."""

    line_class: str
    description: str
    quantity: Decimal = Decimal(1)
    minutes: int | None = None
    part: Part | None = None
    component: Component | None = None
    unit_price: Decimal | None = None
    reason: str = ""
    only_in: str = ""
    timed: bool = False


@transaction.atomic
def add_line(*, estimate: Estimate, wanted: Wanted, on: date) -> EstimateLine:
    estimate = lock_draft(estimate)
    last = estimate.lines.aggregate(last=Max("position"))["last"] or 0
    return _write(EstimateLine(estimate=estimate, position=last + 1), wanted, on)


@transaction.atomic
def change_line(*, line: EstimateLine, wanted: Wanted, on: date) -> EstimateLine:
    lock_draft(line.estimate)
    return _write(_still_there(line), wanted, on)


@transaction.atomic
def drop_line(*, line: EstimateLine) -> None:
    lock_draft(line.estimate)
    _still_there(line).delete()


def _still_there(line: EstimateLine) -> EstimateLine:
    """The line as it is now; somebody may have dropped it while this page was open."""
    found = EstimateLine.objects.filter(pk=line.pk).first()
    if found is None:
        raise JobError(_("Somebody dropped this line meanwhile. Nothing was changed."))
    return found


def lock_draft(estimate: Estimate) -> Estimate:
    """The estimate, held, if it may still be changed."""
    estimate = Estimate.objects.select_for_update().get(pk=estimate.pk)
    if estimate.offered_at:
        raise JobError(
            _("Version %(version)d was offered on %(moment)s and stays as it is. Make a new one.")
            % {"version": estimate.version, "moment": moment(estimate.offered_at)}
        )
    return estimate


def net_of_line(line: EstimateLine) -> Decimal:
    return line_net(line.quantity, line.unit_price)


def _write(line: EstimateLine, wanted: Wanted, on: date) -> EstimateLine:
    line.line_class = wanted.line_class
    line.description = wanted.description or (str(wanted.part) if wanted.part else "")
    if not line.description:
        raise JobError(_("Say what the line is for, or choose a part."))
    line.quantity, line.minutes, line.reason = wanted.quantity, wanted.minutes, wanted.reason
    line.only_in = wanted.only_in
    line.timed = wanted.timed and wanted.line_class == LineClass.LABOUR
    line.part = wanted.part
    line.component = wanted.component or (wanted.part.component if wanted.part else None)
    line.unit_cost = _cost(wanted.part, on)
    line.unit_price = _price(wanted, line.unit_cost, on)
    line.net = net_of_line(line)
    line.save()
    return line


def _cost(part: Part | None, on: date) -> Decimal | None:
    cost = expected_costs([part], on).get(part.pk) if part else None
    return cost.unit_cost if cost else None


def _price(wanted: Wanted, unit_cost: Decimal | None, on: date) -> Decimal:
    if wanted.unit_price is not None:
        return wanted.unit_price
    if wanted.line_class == LineClass.LABOUR and wanted.minutes:
        return labour_price(wanted.minutes, price_rules(on))
    if unit_cost is not None:
        return part_price(unit_cost, price_rules(on))
    raise JobError(_("Nothing is known to price this line by. Give a price for one."))
