"""Who waits for what and since when: the open jobs in a constant number of queries."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from parts.buying.domain.reorder import Demand
from parts.stock.selectors import on_hand
from shop.people.seats import FRONT_DESK, OWNER, TECHNICIAN
from shop.work.domain.waiting import JobFacts, Waits, waits_for
from shop.work.models import Estimate, JobInspection, TimeEntry, WorkOrder
from shop.work.selectors.inspections import inspection_facts, job_inspections
from shop.work.selectors.taking import left_of_jobs, share_out


@dataclass(frozen=True)
class Deed:
    """What to do about it: the words, the seat whose turn it is, and where (``work`` URL)."""

    sentence: str
    label: str
    seat: str
    url_name: str
    post: bool = False


# One row for each thing that a job can wait for.
DEEDS = {
    Waits.INSPECTION: Deed(
        _("%(machine)s (%(whose)s) waits for its inspection."),
        _("Inspect"),
        TECHNICIAN,
        "job-inspect",
        post=True,
    ),
    Waits.ESTIMATE: Deed(
        _("%(machine)s (%(whose)s) is inspected and waits for an estimate."),
        _("Make the estimate"),
        TECHNICIAN,
        "estimate-make",
        post=True,
    ),
    Waits.OFFER: Deed(
        _("The estimate for %(machine)s (%(whose)s) is drafted and not offered yet."),
        _("Look at the estimate"),
        TECHNICIAN,
        "estimate",
    ),
    Waits.ANSWER: Deed(
        _("%(whose)s has not answered the estimate for %(machine)s."),
        _("Write down the answer"),
        FRONT_DESK,
        "estimate-answer",
    ),
    Waits.REFUSED: Deed(
        _("The estimate for %(machine)s (%(whose)s) got a no: close the job, or offer another."),
        _("Close the job"),
        TECHNICIAN,
        "job-close",
    ),
    Waits.PARTS: Deed(
        _("%(machine)s (%(whose)s) waits for parts: %(parts)s."), _("See the job"), OWNER, "job"
    ),
    Waits.START: Deed(
        _("%(machine)s (%(whose)s) has its yes and can be started."),
        _("Start work"),
        TECHNICIAN,
        "work-start",
        post=True,
    ),
    Waits.TAKING: Deed(
        _("%(machine)s (%(whose)s) is in work; its parts are on the shelf."),
        _("Take parts"),
        TECHNICIAN,
        "part-take",
    ),
    Waits.WORK: Deed(
        _("%(machine)s (%(whose)s) is in work; no time is written yet."),
        _("Write time"),
        TECHNICIAN,
        "time-add",
    ),
    Waits.TEST: Deed(
        _("%(machine)s (%(whose)s) waits for its final test."),
        _("Test it"),
        TECHNICIAN,
        "job-inspect",
        post=True,
    ),
    Waits.TEST_FAILED: Deed(
        _("%(machine)s (%(whose)s) did not pass its final test. Put it right and test again."),
        _("See the job"),
        TECHNICIAN,
        "job",
    ),
    Waits.CLOSING: Deed(
        _("%(machine)s (%(whose)s) is tested and can be closed."),
        _("Close the job"),
        TECHNICIAN,
        "job-close",
    ),
    Waits.HAND_BACK: Deed(
        _("%(machine)s is ready to go back to %(whose)s."), _("Hand back"), FRONT_DESK, "hand-back"
    ),
}
OURS = _("our own stock")
ON_BENCH = {"approved", "in-work"}
OWN_ANSWER = Deed(
    _("The estimate for %(machine)s (%(whose)s) waits for the owner's yes."),
    _("Decide"),
    OWNER,
    "estimate-answer",
)


@dataclass(frozen=True)
class Waiting:
    job: WorkOrder
    what: Waits
    parts: tuple[str, ...]
    since: date
    estimate: Estimate | None = None

    @property
    def deed(self) -> Deed:
        own = self.job.purpose == WorkOrder.Purpose.OWN
        return OWN_ANSWER if own and self.what == Waits.ANSWER else DEEDS[self.what]

    @property
    def seat(self) -> str:
        """Whose turn it is."""
        return self.deed.seat

    @property
    def sentence(self) -> str:
        return self.deed.sentence % {
            "machine": self.job.machine,
            "whose": self.job.payer_or_owner or OURS,
            "parts": ", ".join(self.parts),
        }

    @property
    def url_name(self) -> str:
        return self.deed.url_name

    @property
    def href(self) -> str:
        return reverse(self.url_name, args=self.url_args)

    @property
    def occasion(self) -> str:
        """Of an inspection: on arrival, or the final test."""
        return "final" if self.what == Waits.TEST else "arrival"

    @property
    def url_args(self) -> list:
        if self.url_name in {"estimate", "estimate-answer"}:
            return [self.job.number, self.estimate.version]
        return [self.job.number]


def waiting_jobs(jobs: Sequence[WorkOrder] | None = None) -> list[Waiting]:
    """What every open job (or each of ``jobs``) waits for, longest waiting first. Seven queries."""
    if jobs is None:
        jobs = list(WorkOrder.objects.open().with_machine())
    newest = _newest_estimates(jobs)
    missing, to_take = _parts_of(jobs)
    made = _inspections(jobs)
    timed = set(TimeEntry.objects.filter(job__in=jobs).values_list("job_id", flat=True))
    found = [
        waiting_of(
            job,
            newest.get(job.pk),
            JobFacts(
                state=job.state,
                **inspection_facts(made[job.pk]),
                **answer_facts(newest.get(job.pk)),
                parts_missing=tuple(missing[job.pk]),
                parts_to_take=job.pk in to_take,
                time_written=job.pk in timed,
            ),
        )
        for job in jobs
    ]
    return sorted(filter(None, found), key=lambda waiting: waiting.job.state_since)


def answer_facts(estimate: Estimate | None) -> dict[str, bool]:
    """How a job's newest estimate stands, for ``JobFacts``."""
    approval = getattr(estimate, "approval", None)
    return {
        "drafted": estimate is not None and estimate.offered_at is None,
        "said_no": approval is not None and not approval.yes,
    }


def waiting_of(job: WorkOrder, estimate: Estimate | None, facts: JobFacts) -> Waiting | None:
    """What this job waits for, or None; ``estimate`` is its newest."""
    what = waits_for(facts) if job.is_open else Waits.NOTHING
    if what == Waits.NOTHING:
        return None
    return Waiting(job, what, facts.parts_missing, timezone.localdate(job.state_since), estimate)


def _newest_estimates(jobs) -> dict[int, Estimate]:
    rows = Estimate.objects.filter(job__in=jobs).select_related("approval").order_by("version")
    return {estimate.job_id: estimate for estimate in rows}


def parts_wanted() -> list[Demand]:
    """What the approved lines of open jobs need and nobody took yet, the oldest job first. Two
    queries."""
    return [
        Demand(
            one.line.part,
            one.quantity,
            one.line.estimate.job.number,
            one.line.estimate.job.promised_on,
        )
        for one in left_of_jobs(WorkOrder.objects.filter(state__in=ON_BENCH))
    ]


def _parts_of(jobs) -> tuple[dict[int, list[str]], set[int]]:
    """Names of approved parts that are not on hand, and the jobs with parts still to take."""
    left = left_of_jobs([job for job in jobs if job.state in ON_BENCH])
    return share_out(left, on_hand({one.line.part for one in left}))


def _inspections(jobs) -> dict[int, list[JobInspection]]:
    made = defaultdict(list)
    for link in job_inspections().filter(job__in=jobs):
        made[link.job_id].append(link)
    return made
