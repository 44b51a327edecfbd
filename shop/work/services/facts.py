"""What services ask of a job before they change it, in the terms of the domain."""

from datetime import date
from decimal import Decimal

from django.db.models import Sum
from django.utils.translation import gettext as _

from shop.till.selectors import price_rules
from shop.work.domain import billing
from shop.work.models import Estimate, PartUse, WorkOrder
from units.inspections.domain.understanding import Verdict, verdicts
from units.inspections.models import Finding
from units.inspections.selectors import standing_findings, understanding_rules
from units.show.words import minutes as written

NOT_POSSIBLE = "not-possible"


def approved_estimate(job: WorkOrder) -> Estimate | None:
    """The newest version that was said yes to."""
    estimates = job.estimates.filter(approval__yes=True).select_related("approval")
    return estimates.order_by("-version").first()


def agreed_lines(estimate: Estimate | None) -> list[billing.Agreed]:
    if estimate is None:
        return []
    return [
        billing.Agreed(
            line=line.pk,
            line_class=line.line_class,
            description=line.description,
            quantity=line.quantity,
            unit_price=line.unit_price,
            part=line.part_id,
            component=line.component_id,
        )
        for line in estimate.lines.all()
    ]


def used_parts(job: WorkOrder) -> list[billing.Used]:
    uses = PartUse.objects.filter(job=job, put_back=False)
    return [
        billing.Used(
            part=use.move.part_id,
            description=str(use.move.part),
            quantity=use.quantity,
            unit_price=use.unit_price,
            line=use.line_id,
            component=use.line.component_id if use.line else None,
        )
        for use in uses.select_related("move__part", "line")
    ]


def minutes_of(job: WorkOrder) -> int:
    return job.time_entries.aggregate(sum=Sum("minutes"))["sum"] or 0


def work_of(job: WorkOrder, on: date) -> billing.Work:
    """What a job's charge depends on, as agreed, used and timed until now."""
    minutes = minutes_of(job)
    return billing.Work(
        agreed=agreed_lines(approved_estimate(job)),
        used=used_parts(job),
        minutes=minutes,
        rules=price_rules(on),
        minutes_text=_("Labour, %(time)s") % {"time": written(minutes)},
    )


def net_of_estimate(estimate: Estimate) -> Decimal:
    """Before tax."""
    return sum((line.net for line in estimate.lines.all()), Decimal(0))


def findings_of(job: WorkOrder) -> list[Finding]:
    """The machine's standing findings that say something; a look that was not possible does not."""
    if job.unit_id is None:
        return []
    standing = standing_findings([job.unit]).get(job.unit_id, [])
    return [one for one in standing if one.holds or one.condition != NOT_POSSIBLE]


def verdicts_of(job: WorkOrder, findings: list[Finding]) -> list[Verdict]:
    pairs = [(finding.component_id, finding.condition) for finding in findings]
    return verdicts(pairs, understanding_rules(), job.unit.model.kind_id if job.unit else "")
