"""What is known of a job before something is done with it, in the terms of the domain."""

from datetime import date
from decimal import Decimal
from functools import cached_property

from django.utils.translation import gettext as _

from shop.till.domain.pricing import PriceRules
from shop.till.selectors import price_rules
from shop.work.domain import billing
from shop.work.models import Clock, Estimate, JobInspection, PartUse, TimeEntry, WorkOrder
from shop.work.selectors.inspections import job_inspections
from shop.work.selectors.taking import agreed_of, chosen_of, used_of
from units.inspections.domain.understanding import CLEAR, Verdict
from units.inspections.models import Finding
from units.inspections.selectors import standing_findings, verdicts_of
from units.show.words import minutes as written

NOT_POSSIBLE = "not-possible"
NO_RULES = PriceRules(Decimal(0), Decimal(0), ())


class Bench:
    """A job's facts: each is read once, and only when asked for. It is a picture of one moment:
    whoever changes the job takes a new one."""

    def __init__(self, job: WorkOrder):
        self.job = job

    @cached_property
    def answered(self) -> list[Estimate]:
        """Versions with an answer, newest first."""
        estimates = self.job.estimates.filter(approval__isnull=False)
        return list(estimates.select_related("approval__alternative").order_by("-version"))

    @property
    def approved(self) -> Estimate | None:
        """The newest version that was said yes to."""
        return next((one for one in self.answered if one.approval.yes), None)

    @property
    def said_no(self) -> bool:
        return bool(self.answered) and not self.answered[0].approval.yes

    @cached_property
    def agreed(self) -> list[billing.Agreed]:
        if self.approved is None:
            return []
        return [agreed_of(line) for line in chosen_of(self.approved)]

    @cached_property
    def uses(self) -> list[PartUse]:
        """Every part taken, those put back too."""
        uses = PartUse.objects.filter(job=self.job)
        return list(uses.select_related("move__part", "line"))

    @property
    def used(self) -> list[billing.Used]:
        """Parts taken and not put back."""
        return [used_of(use) for use in self.uses if not use.put_back]

    @property
    def lines_to_take(self) -> list[billing.Agreed]:
        """Agreed parts that were not all taken yet, each with how many are left."""
        return billing.left_to_take(self.agreed, self.used)

    @property
    def used_beyond(self) -> list[billing.Used]:
        """Parts used beyond the agreed lines, though something was agreed."""
        return billing.beyond(self.agreed, self.used) if self.approved else []

    @cached_property
    def times(self) -> list[TimeEntry]:
        return list(TimeEntry.objects.filter(job=self.job))

    @cached_property
    def clocks(self) -> list[Clock]:
        """Clocks that still run on the job."""
        running = Clock.objects.filter(job=self.job, stopped_at=None)
        return list(running.select_related("technician"))

    @property
    def minutes(self) -> int:
        return sum(entry.minutes for entry in self.times)

    @cached_property
    def inspections(self) -> list[JobInspection]:
        """Newest first."""
        return list(job_inspections().filter(job=self.job))

    @cached_property
    def findings(self) -> list[Finding]:
        """Standing findings that say something; a look that was not possible does not, unless
        it was at what holds the machine."""
        if self.job.unit_id is None:
            return []
        standing = standing_findings([self.job.unit])[self.job.unit_id]
        return [one for one in standing if one.holds or one.condition != NOT_POSSIBLE]

    @cached_property
    def verdicts(self) -> list[Verdict]:
        found = [finding.result for finding in self.findings]
        return verdicts_of(found, self.job.unit.model.kind_id) if found else []

    @property
    def components_cleared(self) -> set[str]:
        """Components that the rules clear: what was found there comes from elsewhere."""
        return {verdict.component for verdict in self.verdicts if verdict.act == CLEAR}

    @property
    def components_worked_on(self) -> set[str]:
        """Components of the agreed lines that were carried out, and of other parts used."""
        undone = self.lines_to_take
        # A replacement whose part stayed on the shelf was not done, whatever its labour line says.
        left = {line.component for line in undone}
        done = {line.component for line in self.agreed if line.component} - left
        return done | {use.move.part.component_id for use in self.uses if not use.put_back}

    def work(self, on: date) -> billing.Work:
        """What a job's charge depends on; the day's prices only where time is charged."""
        minutes = billing.minutes_charged(self.agreed, self.minutes)
        return billing.Work(
            agreed=self.agreed,
            used=self.used,
            minutes=self.minutes,
            rules=price_rules(on) if minutes else NO_RULES,
            minutes_text=_("Labour, %(time)s") % {"time": written(minutes)},
        )
