"""The lives of the jobs: each a generator that yields the instant of its next event."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from shop.front.demo import bench, pictures
from shop.front.demo.bench import key
from shop.front.demo.standing import put
from shop.front.demo.story import Story, table
from shop.people.models import Customer
from shop.work.models import Estimate, EstimateLine, WorkOrder
from shop.work.services.closing import Ending, cancel_job, close_job
from shop.work.services.estimates import answer_estimate, make_estimate, offer_estimate
from shop.work.services.hand_back import Leaving, Money, hand_back
from shop.work.services.intake import Errand, Machine, Person, log_in
from shop.work.services.labour import start_work
from shop.work.services.notices import draft_notice
from shop.work.services.warranty import CameBack, open_warranty_job
from units.catalogue.models import MachineModel

METHODS = ("card", "cash", "card", "transfer", "check")
BEFORE_WORK = ("logged", "inspected", "drafted", "estimated", "refused", "waiting", "approved")


@dataclass(frozen=True)
class Life:
    """One row of ``jobs.csv`` with what it names."""

    number: int
    ago: int
    plot: str
    ends: str
    model: MachineModel
    serial: str
    customer: Customer
    price: Decimal

    @property
    def complaint(self) -> str:
        return table("plots.toml")[self.plot]["complaint"]

    @property
    def has_key(self) -> bool:
        return self.model.kind.has_safety_key and self.plot != "key-missing"

    def came_along(self) -> list[str]:
        things = ["safety-key"] if self.has_key else []
        return things + (["cord"] if self.model.kind.has_cord else [])

    def machine(self) -> Machine:
        supply = f"{self.model.volts} V  {self.model.hertz} Hz" if self.model.volts else ""
        return Machine(
            maker=self.model.maker.name,
            number=self.model.number,
            serial=self.serial,
            kind=self.model.kind,
            plate_photo=pictures.plate(
                self.model.maker.name, self.model.number, self.serial, supply
            ),
            arrival_photos=[pictures.machine(self.model.kind_id)] if self.number % 3 == 0 else [],
        )

    def at(self, story: Story, days: int, hour: int) -> datetime:
        """``days`` after the machine came, never after noon of the anchor day."""
        wanted = story.at(self.ago - days, hour, self.number * 7 % 60)
        return min(wanted, story.at(0, 8) + timedelta(minutes=days))


def customer_job(story: Story, life: Life) -> Iterator[datetime]:
    at = life.at(story, 0, 9 + life.number % 7)
    yield at
    errand = Errand(
        complaint=life.complaint,
        came_along=life.came_along(),
        arrival_note="Scuffed at the rear, otherwise whole." if life.number % 2 else "",
        spend_limit=Decimal(150) if life.number % 4 == 0 else None,
        promised_on=at.date() + timedelta(14) if life.number % 3 == 0 else None,
    )
    job = log_in(
        person=Person(known=life.customer),
        machine=life.machine(),
        errand=errand,
        key=key("job", life.number),
        by=story.desk,
        at=at,
    )
    yield from through(story, life, job, _customer_says, _hand_over)


def returned_job(story: Story, life: Life) -> Iterator[datetime]:
    """What we put right fails again while our own warranty runs: a job that is free but costed."""
    at = life.at(story, 0, 10)
    yield at
    first = WorkOrder.objects.filter(unit__serial=life.serial, state="handed-back").last()
    job = open_warranty_job(
        first=first,
        back=CameBack(complaint=life.complaint, came_along=life.came_along()),
        key=key("job", life.number),
        by=story.desk,
        at=at,
    )
    yield from through(story, life, job, _agreed_already, _hand_over)


def _agreed_already(story: Story, life: Life, estimate: Estimate, yes: bool, at) -> None:
    """Under our own warranty the offer is its yes: nobody is asked."""


def through(story: Story, life: Life, job: WorkOrder, says, leaves) -> Iterator[datetime]:
    """From the inspection to the end that the story wants, leaving off where it ends."""
    put(story, job.stay, "came", job.opened_at)
    if life.ends == "logged":
        return
    at = life.at(story, 1, 10)
    yield at
    put(story, job.stay, "looked-at", at)
    bench.inspect(story, job, "arrival", life.plot, at)
    if life.ends == "inspected":
        return
    if life.ends in {"no-fault", "unsafe", "cancelled"}:
        yield from _ends_early(story, life, job)
    else:
        yield from _estimated(story, life, job, says)
    if life.ends in BEFORE_WORK:
        return
    if life.ends not in {"no-fault", "unsafe", "cancelled", "declined"}:
        yield from _worked_on(story, life, job)
    if life.ends not in {"in-work", "closed", "cancelled"}:
        yield from leaves(story, life, job)


def _ends_early(story, life, job):
    at = life.at(story, 2, 11)
    yield at
    if life.ends == "cancelled":
        cancel_job(job=job, reason="Moved away; takes it along.", left=True, by=story.desk, at=at)
        return
    if life.ends == "no-fault":
        bench.write_time(story, job, [], at)
    notice = draft_notice(job, life.ends) if life.ends == "unsafe" else ""
    _close(story, life, job, life.ends, notice, at)


def _close(story, life, job, outcome, notice, at):
    place = ""
    if life.model.kind.has_safety_key:
        place = "here" if life.has_key else "new" if outcome == "repaired" else "lost"
    ending = Ending(outcome=outcome, safety_key=place, notice=notice)
    close_job(job=job, ending=ending, by=story.bench, at=at)
    put(story, job.stay, "closed", at)


def _estimated(story, life, job, says):
    at = life.at(story, 1, 14)
    yield at
    estimate = make_estimate(job=job, by=story.bench, at=at)
    if life.ends == "drafted":
        return
    at = life.at(story, 2, 9)
    yield at
    estimate = offer_estimate(estimate=estimate, by=story.bench, at=at)
    if life.ends == "estimated":
        return
    at = life.at(story, 3, 12)
    yield at
    yes = life.ends not in {"declined", "refused"}
    says(story, life, estimate, yes, at)
    if life.ends == "declined":
        at = life.at(story, 4, 10)
        yield at
        _close(story, life, job, "declined", draft_notice(job, "declined"), at)


def _customer_says(story: Story, life: Life, estimate: Estimate, yes: bool, at) -> None:
    answer_estimate(
        estimate=estimate,
        yes=yes,
        given_by=life.customer.name,
        channel=("phone", "counter", "mail")[life.number % 3],
        by=story.desk,
        at=at,
    )


def _lines(job: WorkOrder) -> tuple[list[EstimateLine], list[EstimateLine]]:
    """The lines of the newest estimate, and those of them that name a part."""
    lines = list(job.estimates.first().lines.select_related("part"))
    return lines, [line for line in lines if line.part_id]


def _worked_on(story, life, job):
    lines, for_parts = _lines(job)
    at = life.at(story, 6, 8)
    yield at
    bench.order_missing_parts(story, for_parts, at)
    at = life.at(story, 6, 9)
    yield at
    start_work(job=job, by=story.bench, at=at)
    put(story, job.stay, "in-work", at)
    bench.take_parts(story, job, for_parts, at)
    if life.ends == "in-work":
        return
    at = life.at(story, 7, 15)
    yield at
    bench.write_time(story, job, lines, at)
    at = life.at(story, 7, 16)
    yield at
    bench.inspect(story, job, "final", life.plot, at)
    at = life.at(story, 7, 17)
    yield at
    _close(story, life, job, "repaired", "", at)


def _hand_over(story, life, job):
    at = life.at(story, 9 + life.number % 4, 16)
    yield at
    job.refresh_from_db()
    free = job.outcome in {"unsafe", "no-fault"} or job.purpose == WorkOrder.Purpose.WARRANTY
    pays = not (life.customer.sort == "company" and life.number % 2) and not free
    method = METHODS[life.number % len(METHODS)]
    hand_back(
        job=job,
        leaving=Leaving(
            taken_by=life.customer.name,
            returned=[thing.thing for thing in job.came_along.all()],
            notice_signed=True,
            recalls_told=True,
            fee=Decimal(45) if job.outcome == "declined" else Decimal(0),
            fee_agreed="Agreed by telephone when the repair was declined",
            money=Money(method=method, key=key("paid", job.number)) if pays else None,
        ),
        by=story.desk,
        at=at,
    )
