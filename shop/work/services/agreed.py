"""Whether a job still costs what its payer said yes to."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.utils.translation import gettext as _

from shop.work.domain.billing import projected
from shop.work.domain.limits import NONE, SHOP_DEFAULT, ceiling, needs_new_yes
from shop.work.models import Approval, PartUse, WorkOrder
from shop.work.services.bench import Bench
from shop.work.services.errors import OverLimitError
from units.show.words import money


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


def unasked(bench: Bench, use: PartUse) -> str:
    """The question that a part raises which nobody agreed to, or nothing."""
    beyond = {one.part for one in bench.used_beyond}
    if bench.job.purpose != WorkOrder.Purpose.CUSTOMER or use.move.part_id not in beyond:
        return ""
    return _(
        "%(part)s is not on the estimate, or not so many of it. It is within what was agreed with"
        " its allowance; does the customer know? A new version of the estimate holds it and asks."
    ) % {"part": use.move.part}
