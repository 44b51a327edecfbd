"""Whether a job still costs what its payer said yes to."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils.translation import gettext as _

from shop.till.models import LineClass
from shop.work.domain.billing import net_of, parts_charged, projected
from shop.work.domain.limits import NONE, SHOP_DEFAULT, ceiling, most_fee, needs_new_yes
from shop.work.models import Alternative, Approval, EstimateLine, PartUse, WorkOrder
from shop.work.services.bench import Bench
from shop.work.services.errors import OverLimitError
from units.show.words import money

FEES = (LineClass.FEE, LineClass.TRIP)


@dataclass(frozen=True)
class Beyond:
    """What a job will come to, how far the yes goes, and how far with its allowance."""

    sum: Decimal
    up_to: Decimal
    most: Decimal

    def __str__(self):
        return _(
            "The job comes to %(sum)s before tax; the yes goes to %(up_to)s, with its allowance"
            " %(most)s. Make a new version of the estimate and ask."
        ) % {"sum": money(self.sum), "up_to": money(self.up_to), "most": money(self.most)}


def beyond_the_yes(bench: Bench, on: date) -> Beyond | None:
    """How far a job outgrows its yes, or None. Our own machines and our warranty have
    no payer to ask."""
    if bench.approved is None or bench.job.purpose != WorkOrder.Purpose.CUSTOMER:
        return None
    approval = bench.approved.approval
    allowance = NONE if approval.channel == Approval.Channel.LIMIT else SHOP_DEFAULT
    sum_then = projected(bench.work(on))
    if not needs_new_yes(sum_then, approval.up_to, allowance):
        return None
    return Beyond(sum_then, approval.up_to, ceiling(approval.up_to, allowance))


def require_agreed(job: WorkOrder, on: date) -> None:
    if beyond := beyond_the_yes(Bench(job), on):
        raise OverLimitError(str(beyond))


def quoted_fee(job: WorkOrder) -> Decimal:
    """The fees, before tax, that the newest offered estimate named, whatever is chosen."""
    offered = job.estimates.exclude(offered_at=None).first()
    lines = offered.lines.filter(line_class__in=FEES) if offered else []
    chosen = getattr(getattr(offered, "approval", None), "alternative", None)
    return sum((one.net for one in lines if _stands(one, chosen)), Decimal(0))


def _stands(line: EstimateLine, chosen: Alternative | None) -> bool:
    return line.stands_in(chosen) if chosen else not line.only_in


def require_fee_agreed(job: WorkOrder, fee: Decimal, agreed: str) -> None:
    """Refuse a fee beyond what was quoted for a machine that leaves unrepaired, unless it is
    written down who agreed to it, or why nobody was asked."""
    if not fee or agreed.strip():
        return
    quoted = quoted_fee(job)
    most = most_fee(quoted, job.spend_limit, net_of(parts_charged(Bench(job).used)))
    if fee <= most:
        return
    words = {"fee": money(fee), "quoted": money(quoted), "most": money(max(most, Decimal(0)))}
    raise OverLimitError(
        _(
            "A fee of %(fee)s before tax is more than was quoted. The estimate names %(quoted)s;"
            " with its allowance or the limit given on arrival, %(most)s may be charged unasked."
            " Ask, and write down who agreed; or say why nobody was asked."
        )
        % words,
        field="fee_agreed",
    )


def unasked(bench: Bench, use: PartUse) -> str:
    """The question that a part raises which nobody agreed to, or nothing."""
    beyond = {one.part for one in bench.used_beyond}
    if bench.job.purpose != WorkOrder.Purpose.CUSTOMER or use.move.part_id not in beyond:
        return ""
    return _(
        "%(part)s is not on the estimate, or not so many of it. It is within what was agreed with"
        " its allowance; does the customer know? A new version of the estimate holds it and asks."
    ) % {"part": use.move.part}
