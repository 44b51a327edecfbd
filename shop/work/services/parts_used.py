"""Parts leave the shelf for a job and go back to it, each with its price and its cost."""

from datetime import datetime
from decimal import Decimal
from uuid import UUID

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from parts.fits.models import Part
from parts.stock.models import StockMove
from parts.stock.selectors import next_unit_costs
from parts.stock.services import issue_stock, return_stock
from shop.floor.models import MachineCost
from shop.floor.services import add_cost
from shop.till.domain.pricing import part_price
from shop.till.selectors import price_rules
from shop.work.models import EstimateLine, PartUse, WorkOrder
from shop.work.services.agreed import require_agreed
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from shop.work.services.fits_met import unwrite_fit, write_fit
from shop.work.services.steps import as_it_stands, lock_job

PUT_BACK_IN = {WorkOrder.State.IN_WORK, WorkOrder.State.APPROVED, WorkOrder.State.ESTIMATED}


@transaction.atomic
def take_part(
    *,
    job: WorkOrder,
    part: Part,
    quantity: Decimal,
    line: EstimateLine | None = None,
    key: UUID,
    by: AbstractBaseUser,
    at: datetime,
) -> PartUse:
    """Take a part off the shelf for a job. The same key gives the first use again.

    A part for a line of the estimate is charged at the agreed price, another by its cost and the
    mark-up. On a machine of our own its cost goes into the machine at once. That it fits the
    machine's model is written down where no fit says so. Raises JobError,
    OverLimitError when the payer has to be asked first, or the refusal of the shelf.
    """
    job = lock_job(job)
    if use := PartUse.objects.filter(key=key).first():
        return use
    _require_bench(job)
    if line:
        _require_line(job, line, part)
    on = timezone.localdate(at)
    price = line.unit_price if line else _shelf_price(part, on)
    move = issue_stock(
        part=part,
        quantity=quantity,
        reason=StockMove.Reason.USED,
        on=on,
        document=job.number,
        by=by,
        at=at,
    )
    use = PartUse.objects.create(job=job, key=key, move=move, line=line, unit_price=price)
    require_agreed(job, on)
    _into_our_machine(job, -move.cost, f"part {key}", on, by, at)
    write_fit(use, by, at)
    return use


@transaction.atomic
def put_back_part(*, use: PartUse, by: AbstractBaseUser, at: datetime) -> StockMove:
    """Put a part back on the shelf, at the cost it had. The second time it says who did."""
    job = lock_job(use.job)
    if job.state not in PUT_BACK_IN:
        raise JobError(as_it_stands(job))
    use = PartUse.objects.select_for_update().get(pk=use.pk)
    on = timezone.localdate(at)
    back = return_stock(move=use.move, on=on, by=by, at=at)
    use.put_back = True
    use.save(update_fields=["put_back"])
    _into_our_machine(job, -back.cost, f"put back {use.key}", on, by, at)
    unwrite_fit(use, by, at)
    return back


def _require_bench(job: WorkOrder) -> None:
    if job.state == WorkOrder.State.APPROVED:
        raise JobError(_("Start the work first; then parts can be taken."))
    if job.state != WorkOrder.State.IN_WORK:
        raise JobError(as_it_stands(job))


def _require_line(job: WorkOrder, line: EstimateLine, part: Part) -> None:
    """The agreed price is that of an agreed line, for what it is about: another number of the
    same component may take its part's place."""
    if line.estimate.job_id != job.pk:
        raise JobError(_("This line belongs to another job."))
    if line.pk not in {one.line for one in Bench(job).agreed}:
        raise JobError(_("Nobody said yes to this line. Take the part for one that was agreed."))
    wanted = line.component_id or (line.part and line.part.component_id)
    if line.part_id != part.pk and wanted and part.component_id and wanted != part.component_id:
        raise JobError(
            _("“%(line)s” is another component than %(part)s.")
            % {"line": line.description, "part": part}
        )


def _shelf_price(part: Part, on) -> Decimal:
    cost = next_unit_costs([part]).get(part.pk)
    # None on hand: the shelf refuses in its own words, whatever the price.
    return part_price(cost, price_rules(on)) if cost is not None else Decimal(0)


def _into_our_machine(job: WorkOrder, amount: Decimal, key: str, on, by, at) -> None:
    """At cost, never at a price (IAS 2, paragraphs 10 and 12)."""
    if job.purpose == WorkOrder.Purpose.OWN and amount:
        add_cost(
            stay=job.stay,
            sort=MachineCost.Sort.PARTS,
            amount=amount,
            on=on,
            document=job.number,
            key=key,
            by=by,
            at=at,
        )
