"""The table of states, tried whole: each allowed step through its service, every other refused.

Generated over ``shop.work.domain.states``: a row added there is tried here at once.
"""

import uuid
from datetime import date
from decimal import Decimal

import pytest
from django.apps import apps
from django.db import transaction

from shop.people.seats import SEATS
from shop.work.domain.states import ALL, BOUGHT, DEEDS, OUTCOMES, STATES, WAYS, way_of
from shop.work.models import HandBack, Step, WarrantyTerm, WorkOrder
from shop.work.services import (
    add_time,
    answer_estimate,
    cancel_job,
    close_job,
    hand_back,
    make_estimate,
    offer_estimate,
    start_work,
    take_part,
)
from shop.work.services.alternatives import add_alternative
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import JobError
from shop.work.services.hand_back import Leaving
from shop.work.services.left_standing import give_notice, keep_machine
from shop.work.services.steps import UncheckedStepError, take_step
from tests.factories.shop import StayFactory, WorkOrderFactory
from tests.factories.units import TODAY, PersonFactory
from tests.shop.work.bench import a_belt, later, looked_at
from units.inspections.services.outcomes import Look, record_outcomes

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]

FOUND = {"no-fault": "clean"}  # of the running belt, on arrival; else it is worn


def a_person(*seats):
    return PersonFactory(seats=list(seats))


def a_job_of(purpose):
    if purpose == "own":
        return WorkOrderFactory(purpose="own", stay=StayFactory(owner=None, came="purchase"))
    if purpose == "customer":
        return WorkOrderFactory()
    first = WorkOrderFactory(state="handed-back", outcome="repaired")
    its_belt_is_owed(first)
    return WorkOrderFactory(purpose="warranty", stay=first.stay, warranty_of=first)


def its_belt_is_owed(first):
    by = a_person()
    WarrantyTerm.objects.get_or_create(
        work="replaced", from_on=date(2020, 1, 1), defaults={"parts_days": 90, "labour_days": 60}
    )
    HandBack.objects.create(job=first, taken_by="Dana Mabry", handed_at=later(0), handed_by=by)
    look = Look(unit=first.unit, known="work", document=first.number, population="repair")
    record_outcomes(look=look, fates={"running-belt": "replaced"}, on=TODAY, by=by, at=later(0))


class Life:
    """One job, carried to where a way begins by people who may."""

    def __init__(self, way, purpose):
        self.way, self.job, self.minute = way, a_job_of(purpose), 0
        self.belt = a_belt(self.job)
        self.boss = a_person(*SEATS)  # sits everywhere

    def at(self):
        self.minute += 1
        return later(self.minute)

    def act(self, by=None):
        return {"by": by or self.boss, "at": self.at()}

    def carry(self):
        """To the state in which the way begins."""
        looked_at(
            self.job, self.boss, self.at(), running_belt=FOUND.get(self.way.outcome, "glazed")
        )
        for state in self.path():
            getattr(self, f"to_{state.replace('-', '_')}")()
        self.job.refresh_from_db()
        assert self.job.state == self.way.origin

    def path(self):
        road = ["estimated", "approved", "in-work"]
        if self.way.origin == "closed":
            return ["closed"]
        return road[: road.index(self.way.origin) + 1] if self.way.origin in road else []

    def draft(self):
        self.job.refresh_from_db()
        estimate = make_estimate(job=self.job, **self.act())
        if not estimate.lines.exists():
            estimate.lines.create(
                position=1,
                line_class="fee",
                description="look",
                quantity=Decimal(1),
                unit_price=Decimal(9),
                net=Decimal(9),
            )
        return estimate

    def to_estimated(self):
        if self.way.deed == "no-but":
            self.to_offered()
            self.answer(True)
        estimate = self.draft()
        if self.way.deed == "sell-to-us":
            add_alternative(estimate=estimate, name="repair")
            add_alternative(estimate=estimate, name="ours", sort="donor", we_pay=Decimal(5))
        self.to_offered(estimate)

    def to_offered(self, estimate=None):
        """Ours is not yet the owner's yes when the bench offers it; warranty is a yes at once."""
        bench = a_person("technician")
        self.estimate = offer_estimate(estimate=estimate or self.draft(), **self.act(bench))
        if self.job.purpose == "warranty":
            WorkOrder.objects.filter(pk=self.job.pk).update(state="estimated")

    def answer(self, yes, by=None, **other):
        words = {"given_by": "Dana Mabry", "channel": "phone"} | other
        return answer_estimate(estimate=self.estimate, yes=yes, **words, **self.act(by))

    def to_approved(self):
        if self.job.purpose == "warranty":
            WorkOrder.objects.filter(pk=self.job.pk).update(state="approved")
        else:
            self.answer(True)

    def to_in_work(self):
        start_work(job=self.job, **self.act())

    def to_closed(self):
        ending = Ending("unsafe", "here", notice="Cracked.")
        close_job(job=self.job, ending=ending, **self.act())

    def step(self, by):
        getattr(self, f"do_{self.way.deed.replace('-', '_')}")(by)

    def do_offer(self, by):
        offer_estimate(estimate=self.draft(), **self.act(by))

    def do_yes(self, by):
        self.answer(True, by)

    def do_no(self, by):
        self.answer(False, by)

    do_no_but = do_no

    def do_sell_to_us(self, by):
        self.answer(True, by, alternative=self.estimate.alternatives.get(sort="donor"))

    def do_start(self, by):
        start_work(job=self.job, **self.act(by))

    def do_close(self, by):
        outcome = self.way.outcome
        if outcome == "declined":
            self.refused()
        elif outcome == "no-fault":
            add_time(job=self.job, minutes=5, worked_on=TODAY, key=uuid.uuid4(), **self.act())
        elif outcome == "repaired":
            self.proven()
        ending = Ending(outcome, "here", notice="As it is.")
        close_job(job=self.job, ending=ending, **self.act(by))

    def refused(self):
        """The newest version gets a no, whatever stood before."""
        if self.way.origin != "estimated":
            self.to_offered(self.draft())
        self.answer(False)
        if self.way.origin == "in-work":
            start_work(job=self.job, **self.act())

    def proven(self):
        taken = {"part": self.belt, "quantity": Decimal(1), "key": uuid.uuid4()}
        take_part(job=self.job, **taken, **self.act())
        add_time(job=self.job, minutes=5, worked_on=TODAY, key=uuid.uuid4(), **self.act())
        looked_at(self.job, self.boss, self.at(), occasion="final")

    def do_cancel(self, by):
        cancel_job(job=self.job, reason="moved away", left=True, **self.act(by))

    def do_hand_back(self, by):
        leaving = Leaving(
            "Dana Mabry",
            [thing.thing for thing in self.job.came_along.all()],
            notice_signed=True,
        )
        hand_back(job=self.job, leaving=leaving, **self.act(by))

    def do_keep(self, by):
        said = {"how": "mail", "given_on": TODAY, "key": uuid.uuid4()}
        give_notice(job=self.job, **said, **self.act())
        self.minute += 24 * 60
        keep_machine(job=self.job, reason="county order 12", **self.act(by))


# The yes under warranty is given in the press of its offer, and tried with it.
WITH_ITS_OFFER = ("yes", "warranty")
ALLOWED = [
    (way, purpose)
    for way in WAYS
    for purpose in sorted(way.purposes)
    if (way.deed, purpose) != WITH_ITS_OFFER
]
IDS = [f"{p}-{w.origin}-{w.deed}-{w.outcome or w.to}" for w, p in ALLOWED]


def rows_of(label: str) -> int:
    return apps.get_model(label).objects.count()


@pytest.mark.parametrize(("way", "purpose"), ALLOWED, ids=IDS)
def test_an_allowed_step_is_taken_by_its_seats_alone_and_leaves_what_it_writes(way, purpose):
    life = Life(way, purpose)
    life.carry()
    for seat in set(SEATS) - way.seats:
        refused = pytest.raises(JobError, match=r"another seat|Only the owner")
        with transaction.atomic(), refused, transaction.atomic():
            life.step(a_person(seat))
    before = {label: rows_of(label) for label in way.writes}
    life.step(a_person(sorted(way.seats)[0]))
    job = WorkOrder.objects.get(pk=life.job.pk)
    # Our own offer by the owner, and any under warranty, is answered in the same press.
    at_once = way.deed == "offer" and (purpose == "warranty" or sorted(way.seats)[0] == "owner")
    assert job.state == ("approved" if at_once else way.to)
    assert job.outcome == way.outcome or way.deed in {"hand-back", "keep"}
    for label, count in before.items():
        if not (purpose == "warranty" and label == "work.Approval"):
            assert rows_of(label) > count, label


def every_try():
    for purpose in sorted(ALL):
        for deed in DEEDS:
            for outcome in ("", BOUGHT, *OUTCOMES):
                yield purpose, deed, outcome


@pytest.mark.parametrize("state", STATES)
def test_every_other_step_is_refused_with_its_reason_for_every_seat(state):
    people = {seat: a_person(seat) for seat in SEATS}
    jobs = {purpose: a_job_of(purpose) for purpose in ALL}
    WorkOrder.objects.filter(pk__in=[job.pk for job in jobs.values()]).update(state=state)
    tried = 0
    for purpose, deed, outcome in every_try():
        way = way_of(state, deed, purpose, outcome)
        for seat, person in people.items():
            if way and seat in way.seats:
                continue
            with pytest.raises(JobError) as refusal:
                take_step(job=jobs[purpose], deed=deed, outcome=outcome, by=person, at=later(1))
            reason = "another seat" if way else jobs[purpose].number
            assert reason in str(refusal.value)
            tried += 1
    assert tried > 600
    assert not Step.objects.exists()


def test_no_service_takes_a_step_whose_conditions_it_did_not_look_at():
    boss, jobs = a_person(*SEATS), {purpose: a_job_of(purpose) for purpose in ALL}
    tried = [(way, purpose, key) for way, purpose in ALLOWED for key in way.conditions]
    for way, purpose, left_out in tried:
        WorkOrder.objects.filter(pk=jobs[purpose].pk).update(state=way.origin)
        with pytest.raises(UncheckedStepError, match=left_out):
            take_step(
                job=jobs[purpose],
                deed=way.deed,
                outcome=way.outcome,
                checked=set(way.conditions) - {left_out},
                by=boss,
                at=later(1),
            )
    assert len(tried) > 100
    assert not Step.objects.exists()
