"""Which agreed parts are still to take, by the one rule of :mod:`shop.work.domain.billing`."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import OuterRef, Subquery

from shop.till.models import LineClass
from shop.work.domain.billing import Agreed, Used, left_to_take
from shop.work.models import Estimate, EstimateLine, PartUse

NONE = Decimal(0)


@dataclass(frozen=True)
class Left:
    """A line of an approved estimate that names a part, and how many of it are still to take."""

    line: EstimateLine
    quantity: Decimal


def agreed_of(line: EstimateLine) -> Agreed:
    return Agreed(
        line=line.pk,
        line_class=line.line_class,
        description=line.description,
        quantity=line.quantity,
        unit_price=line.unit_price,
        part=line.part_id,
        component=line.component_id,
        minutes=line.minutes or 0,
        timed=line.timed,
    )


def chosen_of(estimate: Estimate) -> list[EstimateLine]:
    """The lines of an answered estimate that were said yes to: those of the alternative chosen."""
    chosen = estimate.approval.alternative
    return [line for line in estimate.lines.all() if line.stands_in(chosen)]


def used_of(use: PartUse) -> Used:
    """Wants the move's part and the line at hand."""
    return Used(
        part=use.move.part_id,
        description=str(use.move.part),
        quantity=use.quantity,
        unit_price=use.unit_price,
        line=use.line_id,
        component=use.line.component_id if use.line else None,
    )


def left_of(lines: Iterable[EstimateLine], uses: Iterable[PartUse]) -> list[Left]:
    """What is still to take of one job's agreed lines, in their order."""
    by_pk = {line.pk: line for line in lines}
    left = left_to_take(
        [agreed_of(line) for line in by_pk.values()],
        [used_of(use) for use in uses if not use.put_back],
    )
    return [Left(by_pk[one.line], one.quantity) for one in left if one.part]


def left_of_jobs(jobs) -> list[Left]:
    """What is still to take for these jobs' newest approved versions, the oldest job first.

    Two queries.
    """
    approved = Estimate.objects.filter(job=OuterRef("estimate__job"), approval__yes=True)
    lines = EstimateLine.objects.filter(
        estimate__job__in=jobs,
        line_class=LineClass.PART,
        estimate=Subquery(approved.order_by("-version").values("pk")[:1]),
    )
    lines = lines.select_related(
        "part__maker", "part__component", "estimate__job", "estimate__approval__alternative"
    )
    lines_of, uses_of = defaultdict(list), defaultdict(list)
    for line in lines.order_by("estimate__job__opened_at", "estimate__job", "position"):
        if line.stands_in(line.estimate.approval.alternative):
            lines_of[line.estimate.job_id].append(line)
    for use in PartUse.objects.filter(job__in=jobs).select_related("move__part", "line"):
        uses_of[use.job_id].append(use)
    return [one for job, mine in lines_of.items() for one in left_of(mine, uses_of[job])]


def share_out(
    left: Sequence[Left], on_hand: Mapping[int, Decimal]
) -> tuple[dict[int, list[str]], set[int]]:
    """By job the names of parts that are not on hand, and the jobs with parts to take now.

    Who comes first is served first: what it needs is not promised to the next one.
    """
    there, missing, to_take = dict(on_hand), defaultdict(list), set()
    for one in left:
        part, job = one.line.part, one.line.estimate.job_id
        there[part.pk] = there.get(part.pk, NONE) - one.quantity
        if there[part.pk] < 0:
            missing[job].append(part.name)
        else:
            to_take.add(job)
    return missing, to_take
