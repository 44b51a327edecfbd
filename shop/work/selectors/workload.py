"""What was promised, what is late, and how full the bench is."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.contrib.auth import get_user_model
from django.contrib.auth.models import AbstractBaseUser
from django.db.models import OuterRef, Subquery, Sum

from shop.people.seats import TECHNICIAN
from shop.till.models import LineClass
from shop.work.domain.capacity import Load, Plan, Reached, Week, plan
from shop.work.models import BenchHours, Estimate, EstimateLine, TimeEntry, WorkOrder

ON_THE_BENCH = (WorkOrder.State.APPROVED, WorkOrder.State.IN_WORK)


@dataclass(frozen=True)
class Person:
    """A technician's coming weeks; ``minutes`` are all that was given to him and is to be done."""

    technician: AbstractBaseUser
    minutes_a_week: int
    minutes: int
    weeks: Sequence[Week]

    @property
    def over(self) -> int:
        """Minutes of his own jobs beyond the weeks shown."""
        return self.minutes - sum(week.own for week in self.weeks)


@dataclass(frozen=True)
class Workload:
    """``late`` are jobs in work or before it whose day has passed; ``queue`` pairs each job with
    when it is done; ``hours`` are the rows that stand, one a technician; ``people`` are their
    weeks, ``weeks`` those of all together."""

    on: date
    late: list[WorkOrder]
    queue: list[tuple[WorkOrder, Reached]]
    hours: list[BenchHours]
    unset: list
    people: list[Person]
    weeks: Sequence[Week]

    @property
    def minutes(self) -> int:
        return sum(one.load.minutes for _job, one in self.queue)

    @property
    def minutes_a_week(self) -> int:
        return sum(row.minutes_a_week for row in self.hours)

    @property
    def over(self) -> int:
        """Minutes beyond the weeks shown."""
        return self.minutes - sum(week.taken for week in self.weeks)

    @property
    def bars(self) -> list[dict]:
        """Each week as a bar of the picture: 56 wide, 120 high when full."""
        most = max((week.capacity for week in self.weeks), default=0) or 1
        return [
            {
                "week": week,
                "x": 44 + 64 * place,
                "middle": 44 + 64 * place + 24,
                "room": 120 * week.capacity // most,
                "top": 140 - 120 * week.capacity // most,
                "full": 120 * week.taken // most,
                "from": 140 - 120 * week.taken // most,
            }
            for place, week in enumerate(self.weeks)
        ]


def workload(on: date) -> Workload:
    """Seven queries, whatever the number of jobs."""
    jobs = {job.number: job for job in _jobs()}
    hours = hours_on(on)
    loads = [
        Load(job.number, job.minutes_left, job.promised_on, job.technician_id)
        for job in jobs.values()
    ]
    planned = plan(loads, {row.technician_id: row.minutes_a_week for row in hours}, on)
    # A machine that is done was not late because nobody has collected it yet.
    late = WorkOrder.objects.open().exclude(state=WorkOrder.State.CLOSED)
    late = late.filter(promised_on__lt=on).with_machine()
    there = {row.technician_id for row in hours}
    technicians = get_user_model().objects.filter(groups__name=TECHNICIAN, is_active=True)
    return Workload(
        on=on,
        late=list(late.order_by("promised_on", "pk")),
        queue=[(jobs[one.load.number], one) for one in planned.reached],
        hours=hours,
        unset=[person for person in technicians.order_by("first_name") if person.pk not in there],
        people=[_person(row, loads, planned) for row in hours],
        weeks=_together(planned),
    )


def _person(row: BenchHours, loads: Sequence[Load], planned: Plan) -> Person:
    minutes = sum(load.minutes for load in loads if load.technician == row.technician_id)
    weeks = planned.weeks[row.technician_id]
    return Person(row.technician, row.minutes_a_week, minutes, weeks)


def _together(planned: Plan) -> list[Week]:
    """The weeks of all technicians as one."""
    return [
        Week(
            same[0].monday,
            sum(week.capacity for week in same),
            sum(week.own for week in same),
            sum(week.lent for week in same),
        )
        for same in zip(*planned.weeks.values(), strict=True)
    ]


def hours_on(on: date) -> list[BenchHours]:
    """The hours that stand on a day, one row a technician who is still here. One query."""
    newest = BenchHours.objects.filter(technician=OuterRef("technician"), from_on__lte=on)
    newest = newest.order_by("-from_on").values("pk")[:1]
    rows = BenchHours.objects.filter(pk=Subquery(newest), technician__is_active=True)
    return list(rows.select_related("technician").order_by("technician__first_name"))


def _jobs() -> list[WorkOrder]:
    """Approved jobs that are not closed, each with ``minutes_left`` of its flat-rate time."""
    jobs = list(
        WorkOrder.objects.filter(state__in=ON_THE_BENCH)
        .with_machine()
        .select_related("technician")
        .order_by("opened_at", "pk")
    )
    planned, written = _planned(jobs), _written(jobs)
    for job in jobs:
        job.minutes_left = max(0, planned[job.pk] - written.get(job.pk, 0))
    return jobs


def _planned(jobs) -> dict[int, int]:
    approved = Estimate.objects.filter(job=OuterRef("estimate__job"), approval__yes=True)
    lines = EstimateLine.objects.filter(
        estimate__job__in=jobs,
        line_class=LineClass.LABOUR,
        estimate=Subquery(approved.order_by("-version").values("pk")[:1]),
    )
    planned = defaultdict(int)
    for line in lines.select_related("estimate__approval__alternative"):
        if line.stands_in(line.estimate.approval.alternative):
            planned[line.estimate.job_id] += line.minutes or 0
    return planned


def _written(jobs) -> dict[int, int]:
    rows = TimeEntry.objects.filter(job__in=jobs).order_by().values_list("job")
    return dict(rows.annotate(Sum("minutes")))
