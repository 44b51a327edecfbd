"""What the job's page and the intake page show."""

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Sum, Value
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils.translation import gettext as _

from shop.work.domain.billing import Used, beyond
from shop.work.domain.waiting import JobFacts
from shop.work.models import Estimate, EstimateLine, JobInspection, WorkOrder
from shop.work.selectors.inspections import inspection_facts, job_inspections, newest_of
from shop.work.selectors.taking import Left, agreed_of, left_of, share_out, used_of
from shop.work.selectors.waiting import Waiting, answer_facts, waiting_of
from units.catalogue.models import Unit
from units.catalogue.selectors import unit_by_serial
from units.inspections.models import Finding, Inspection, Protocol
from units.inspections.selectors import standing_findings
from units.rows.fields import QuantityField

# Besides the look on arrival and the final test, which a job waits for.
OTHER_OCCASIONS = (
    Protocol.Occasion.REPAIR,
    Protocol.Occasion.AFTER_MOVE,
    Protocol.Occasion.PURCHASE,
    Protocol.Occasion.CLUB,
)
NONE = Value(Decimal(0), output_field=QuantityField())


@dataclass(frozen=True)
class History:
    """A machine seen before: its jobs, newest first, and the one still open."""

    unit: Unit
    jobs: list[WorkOrder]

    @property
    def open_job(self) -> WorkOrder | None:
        return next((job for job in self.jobs if job.is_open), None)


def machine_history(maker: str, serial: str) -> History | None:
    """The machine of this maker with this serial, or None. At most two queries."""
    unit = unit_by_serial(maker, serial)
    if unit is None:
        return None
    return History(unit, list(unit.jobs.select_related("owner").order_by("-opened_at")[:5]))


@dataclass(frozen=True)
class JobPage:
    job: WorkOrder
    came_along: list
    arrival: Inspection | None
    final: Inspection | None
    findings: list[Finding]
    estimate: Estimate | None
    lines: list
    uses: list
    times: list
    steps: list
    waiting: Waiting | None
    used_beyond: list[Used]
    others: list[Inspection | None]

    @property
    def chosen(self):
        """The alternative of the newest estimate that was said yes to, if it lets one choose."""
        return getattr(getattr(self.estimate, "approval", None), "alternative", None)

    @property
    def chosen_lines(self) -> list[EstimateLine]:
        return [line for line in self.lines if line.stands_in(self.chosen)]

    @property
    def estimate_net(self):
        return sum(line.net for line in self.chosen_lines)

    @property
    def inspections(self) -> list[Inspection]:
        return [one for one in (self.arrival, self.final, *self.others) if one]

    @property
    def occasions(self) -> list[tuple[str, str]]:
        """On which the machine may be looked at besides: ``(occasion, words)``."""
        if self.job.unit_id is None or self.job.is_over:
            return []
        return [(one.value, one.label) for one in OTHER_OCCASIONS]

    @property
    def elsewhere(self) -> list[tuple[str, str, str]]:
        """Pages of other rooms that belong to this job: ``(url name, address, label)``."""
        found = []
        if self.job.unit_id:
            address = reverse("machine", args=[self.job.unit_id])
            found.append(("machine", address, _("The machine's page")))
        invoice = getattr(getattr(self.job, "hand_back", None), "invoice", None)
        if invoice:
            label = _("Invoice %(number)s") % {"number": invoice.number}
            found.append(("invoice", reverse("invoice", args=[invoice.number]), label))
        return found

    @property
    def cost_of_warranty(self) -> tuple[Decimal, Decimal] | None:
        """What the parts and the time of a job under our own warranty cost us."""
        if self.job.purpose != WorkOrder.Purpose.WARRANTY:
            return None
        parts = -sum((use.move.cost for use in self.uses if not use.put_back), Decimal(0))
        return parts, sum((entry.cost for entry in self.times), Decimal(0))

    @property
    def minutes(self) -> int:
        return sum(entry.minutes for entry in self.times)


def job_page(number: str) -> JobPage:
    """One job with all that its page shows, in at most eight queries.

    Raises WorkOrder.DoesNotExist. Findings are shown until an estimate carries their reasons,
    parts and time once there is an estimate.
    """
    jobs = WorkOrder.objects.with_machine().select_related(
        "stay", "opened_by", "notice", "warranty_of", "technician"
    )
    job = jobs.select_related("hand_back__invoice").get(number=number)
    links = list(job_inspections().filter(job=job))
    estimates = list(job.estimates.select_related("approval__alternative", "made_by"))
    parts = {name: [] for name in ("findings", "lines", "uses", "times")}
    if estimates:
        parts["lines"] = list(_lines(job))
        parts["uses"] = list(job.part_uses.select_related("move__part", "move__bin", "line"))
        parts["times"] = list(job.time_entries.select_related("technician"))
    elif job.unit:
        parts["findings"] = standing_findings([job.unit]).get(job.unit_id, [])
    waiting = _waiting(job, estimates, parts, links)
    newest = estimates[0] if estimates else None
    beyond = _used_beyond(job, estimates, parts)
    parts["lines"] = [line for line in parts["lines"] if line.estimate_id == newest.pk]
    return JobPage(
        job=job,
        came_along=list(job.came_along.all()),
        arrival=_shown(newest_of(links, "arrival")),
        final=_shown(newest_of(links, "final")),
        others=[_shown(newest_of(links, occasion)) for occasion in OTHER_OCCASIONS],
        estimate=newest,
        steps=list(job.steps.select_related("taken_by")),
        waiting=waiting,
        used_beyond=beyond,
        **parts,
    )


def _shown(link: JobInspection | None) -> Inspection | None:
    if link:
        link.inspection.href = reverse("inspection", args=[link.inspection_id])
    return link.inspection if link else None


def _lines(job: WorkOrder):
    """The lines of every version, each with how many of its part lie on the shelf."""
    lines = EstimateLine.objects.filter(estimate__job=job).select_related("part", "estimate")
    return lines.annotate(on_hand=Coalesce(Sum("part__shelves__on_hand"), NONE))


def _waiting(job, estimates, parts, links) -> Waiting | None:
    newest = estimates[0] if estimates else None
    left = _to_take(estimates, parts["lines"], parts["uses"])
    missing, to_take = share_out(left, {one.line.part_id: one.line.on_hand for one in left})
    return waiting_of(
        job,
        newest,
        JobFacts(
            state=job.state,
            **inspection_facts(links),
            **answer_facts(newest),
            parts_missing=tuple(missing.get(job.pk, ())),
            parts_to_take=job.pk in to_take,
            time_written=bool(parts["times"]),
        ),
    )


def _to_take(estimates, lines, uses) -> list[Left]:
    """What is still to take of the newest approved version."""
    return left_of(_agreed_lines(estimates, lines), uses)


def _agreed_lines(estimates, lines) -> list[EstimateLine]:
    """The lines chosen of the newest approved version."""
    answered = [one for one in estimates if getattr(one, "approval", None)]
    approved = next((one for one in answered if one.approval.yes), None)
    if approved is None:
        return []
    chosen = approved.approval.alternative
    return [line for line in lines if line.estimate_id == approved.pk and line.stands_in(chosen)]


def _used_beyond(job: WorkOrder, estimates, parts) -> list[Used]:
    """Parts used of a customer's job, with how many of each no agreed line asks for."""
    agreed = [agreed_of(line) for line in _agreed_lines(estimates, parts["lines"])]
    if job.purpose != WorkOrder.Purpose.CUSTOMER or not agreed:
        return []
    return beyond(agreed, [used_of(use) for use in parts["uses"] if not use.put_back])
