"""Whole lives of jobs by chance: whoever presses what and when, nothing gets past the proof.

The machine presses buttons in any order, by any seat, twice where it likes, through the services.
What must hold is read from the rows themselves, not asked of the code under test.
"""

import uuid
from collections import Counter
from decimal import Decimal
from itertools import pairwise

import pytest
from django.db import transaction
from django.db.models import Sum
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    rule,
    run_state_machine_as_test,
)

from parts.stock.models import StockMove
from shop.floor.models import Stay
from shop.people.seats import SEATS
from shop.work.domain.closing import FinalTest
from shop.work.models import Clock, FlatRate, PartUse, WorkOrder
from shop.work.selectors.inspections import final_test_of, job_inspections
from shop.work.services import (
    add_time,
    answer_estimate,
    cancel_job,
    close_job,
    hand_back,
    make_estimate,
    offer_estimate,
    put_back_part,
    start_work,
    take_part,
)
from shop.work.services.clocks import start_clock, stop_clock
from shop.work.services.closing_facts import Ending
from shop.work.services.hand_back import Leaving
from shop.work.services.left_standing import give_notice, keep_machine
from shop.work.views.acting import REFUSALS
from tests.factories.units import TODAY, ComponentFactory, PersonFactory
from tests.shop.work.bench import a_belt, a_job, later, looked_at, shop_rules
from units.inspections.selectors import standing_findings
from units.inspections.services import InspectionError

ON_HAND = 3
# The owner may do nearly everything, so that lives get on; the others try what they may not.
seats = st.sampled_from([*sorted(SEATS), "owner", "owner"])
tried = Counter()
reached = Counter()  # how far the lives came, lest the invariants hold of nothing


class Lives(RuleBasedStateMachine):
    def __init__(self):
        super().__init__()
        self.undone = transaction.atomic()
        self.undone.__enter__()
        self.minute, self.keys = 0, [uuid.UUID(int=1)]
        self.taken = set()  # keys with which a part was taken, by what the press told

    def teardown(self):
        job = self.now()
        if job is not None:
            reached[job.state, job.outcome] += 1
        transaction.set_rollback(True)
        self.undone.__exit__(None, None, None)

    @initialize()
    def opened(self):
        shop_rules()
        for act in FlatRate.Act.values:
            component = ComponentFactory(slug="running-belt")
            FlatRate.objects.create(act=act, component=component, minutes=60)
        self.people = {seat: PersonFactory(seats=[seat]) for seat in SEATS}
        self.job = a_job()
        self.belt = a_belt(self.job, on_hand=str(ON_HAND))

    def press(self, deed, seat, **said):
        """What a page does: do it, or be told why not; then nothing is half done."""
        self.minute += 1
        try:
            with transaction.atomic():
                return deed(**said, by=self.people[seat], at=later(self.minute))
        except (*REFUSALS, InspectionError):
            return None

    @rule(steps=st.integers(2, 6))
    def go_on(self, steps):
        """What a good shop does next, so that chance does not have to find the whole way."""
        for _step in range(steps):
            self.next_deed()

    def next_deed(self):
        job, owner = self.now(), "owner"
        if job.state == "in-work":
            return self.work_on(job)
        deeds = {
            "logged": self.offer if job.inspections.exists() else self.look_first,
            "estimated": lambda seat: self.answer(seat, True),
            "approved": self.start,
            "closed": lambda seat: self.hand_out(seat, True),
        }
        return deeds[job.state](owner) if job.state in deeds else None

    def look_first(self, seat):
        self.look(seat, "arrival", "glazed", "sound")

    def work_on(self, job):
        if not PartUse.objects.filter(put_back=False).exists():
            return self.take("owner", False)
        if not job.time_entries.exists():
            return self.time("owner")
        if Clock.objects.filter(stopped_at=None).exists():
            return self.clock("owner")
        if final_test_of(list(job_inspections().filter(job=job))) != FinalTest.PASSED:
            return self.look("owner", "final", "clean", "sound")
        return self.close("owner", "repaired", "here")

    @rule()
    def cut_every_corner(self):
        """“Repaired” is pressed after every deed, and whenever one thing was cut short."""
        for _step in range(5):
            if self.now().state != "in-work":
                self.next_deed()
        if self.now().state != "in-work":
            return
        for deed in (self.use_a_part, self.time, self.test_badly):
            self.close("owner", "repaired", "here")
            deed("owner")
        self.close("owner", "repaired", "here")
        self.test("owner")
        self.close("owner", "no-fault", "here")  # nothing stands but the part that is in
        for cut in (self.time, self.crack, self.put_all_back):
            self.test("owner")
            cut("owner")
            self.close("owner", "repaired", "here")
        tried[self.now().state] += 1

    def use_a_part(self, seat):
        if not PartUse.objects.filter(put_back=False).exists():
            self.take(seat, False)
            self.take(seat, True)  # the second press of a double click

    def test_badly(self, seat):
        self.look(seat, "final", "glazed", "sound")

    def test(self, seat):
        self.look(seat, "final", "clean", "sound")

    def crack(self, seat):
        self.look(seat, "arrival", "clean", "cracked")

    def put_all_back(self, seat):
        for use in PartUse.objects.filter(put_back=False):
            self.press(put_back_part, seat, use=use)
            self.press(put_back_part, seat, use=use)

    @rule(
        seat=seats,
        occasion=st.sampled_from(["arrival", "final"]),
        belt=st.sampled_from(["clean", "clean", "glazed"]),
        frame=st.sampled_from(["sound", "sound", "sound", "cracked"]),
    )
    def look(self, seat, occasion, belt, frame):
        def deed(by, at):
            looked_at(self.job, by, at, occasion=occasion, running_belt=belt, frame=frame)

        self.press(deed, seat)

    @rule(seat=seats)
    def offer(self, seat):
        def deed(by, at):
            estimate = make_estimate(job=self.job, by=by, at=at)
            return offer_estimate(estimate=estimate, by=by, at=at)

        self.press(deed, seat)

    @rule(seat=seats, yes=st.sampled_from([True, True, False]))
    def answer(self, seat, yes):
        if newest := self.job.estimates.first():
            said = {"yes": yes, "given_by": "Dana Mabry", "channel": "phone"}
            self.press(answer_estimate, seat, estimate=newest, **said)

    @rule(seat=seats)
    def start(self, seat):
        self.press(start_work, seat, job=self.job)

    @rule(seat=seats, again=st.booleans())
    def take(self, seat, again):
        if not again:
            self.keys.append(uuid.UUID(int=len(self.keys) + 1))
        said = {"part": self.belt, "quantity": Decimal(1), "key": self.keys[-1]}
        if self.press(take_part, seat, job=self.job, **said):
            self.taken.add(self.keys[-1])

    @rule(seat=seats, data=st.data())
    def put_back(self, seat, data):
        if uses := list(PartUse.objects.all()):
            self.press(put_back_part, seat, use=data.draw(st.sampled_from(uses)))

    @rule(seat=seats)
    def time(self, seat):
        said = {"minutes": 20, "worked_on": TODAY, "key": uuid.UUID(int=1000 + self.minute)}
        self.press(add_time, seat, job=self.job, **said)

    @rule(seat=seats)
    def clock(self, seat):
        running = Clock.objects.filter(stopped_at=None).first()
        if running:
            self.press(stop_clock, seat, clock=running)
        else:
            key = uuid.UUID(int=2000 + self.minute)
            self.press(start_clock, seat, job=self.job, key=key)

    @rule(
        seat=seats,
        outcome=st.sampled_from(["repaired", "repaired", *WorkOrder.Outcome.values]),
        place=st.sampled_from(["here", "here", "kept", "lost", ""]),
    )
    def close(self, seat, outcome, place):
        ending = Ending(outcome, place, notice="As it is.")
        self.press(close_job, seat, job=self.job, ending=ending)

    @rule(seat=seats, left=st.booleans())
    def cancel(self, seat, left):
        if self.minute > 25:  # else most lives would end before they began
            self.press(cancel_job, seat, job=self.job, reason="moved away", left=left)

    @rule(seat=seats, signed=st.booleans())
    def hand_out(self, seat, signed):
        leaving = Leaving("Dana Mabry", ["safety-key"], notice_signed=signed)
        self.press(hand_back, seat, job=self.job, leaving=leaving)

    @rule(seat=seats)
    def keep(self, seat):
        said = {"how": "mail", "given_on": TODAY, "key": uuid.UUID(int=3000 + self.minute)}
        self.press(give_notice, seat, job=self.job, **said)
        self.press(keep_machine, seat, job=self.job, reason="county order 12")

    @invariant()
    def repaired_means_proven(self):
        job = self.now()
        if job is None or job.outcome != "repaired":
            return
        tests = job.inspections.filter(
            inspection__protocol__occasion="final", inspection__finished_at__isnull=False
        )
        test = tests.order_by("-inspection__opened_at", "-pk").first()
        assert test, "closed as repaired without a final test"
        finished = test.inspection.finished_at
        failing = test.inspection.results.filter(condition__in=["glazed", "cracked"])
        assert not failing.exists()
        assert not job.time_entries.filter(recorded_at__gt=finished).exists()
        assert not StockMove.objects.filter(document=job.number, recorded_at__gt=finished).exists()
        assert job.time_entries.exists()
        standing = standing_findings([job.unit])[job.unit_id]
        assert not [one for one in standing if one.holds], "called repaired while it is held"

    @invariant()
    def no_fault_found_means_no_part_in(self):
        job = self.now()
        if job is not None and job.outcome == "no-fault":
            moved = StockMove.objects.filter(document=job.number)
            assert not moved.aggregate(sum=Sum("quantity"))["sum"], "no fault, yet a part is in"

    @invariant()
    def no_part_is_used_twice(self):
        if self.now() is None:
            return
        moves = StockMove.objects.filter(part=self.belt)
        left = moves.aggregate(left=Sum("quantity"))["left"]
        kept = PartUse.objects.filter(put_back=False).count()
        assert left == ON_HAND - kept >= 0
        assert PartUse.objects.count() == len(self.taken), "one press took it twice"

    @invariant()
    def it_is_out_of_the_house_only_by_an_exit(self):
        job = self.now()
        if job is None:
            return
        here = Stay.objects.here().filter(unit=job.unit, owner__isnull=False).exists()
        if job.state in {"handed-back", "taken-over"}:
            assert not here
        elif job.state != "cancelled":
            assert here
        if job.state == "handed-back" and job.outcome in {"unsafe", "declined"}:
            assert job.notice.text

    @invariant()
    def every_step_is_written(self):
        job = self.now()
        steps = list(job.steps.all()) if job else []
        if steps:
            assert steps[-1].to_state == job.state
            pairs = pairwise(steps)
            assert all(one.to_state == other.from_state for one, other in pairs)

    def now(self):
        """The job as it is; None before the first rule."""
        return WorkOrder.objects.get(pk=self.job.pk) if hasattr(self, "job") else None


@pytest.mark.django_db
def test_no_life_of_a_job_gets_past_its_proof():
    few = settings.default.max_examples // 5
    run_state_machine_as_test(
        Lives, settings=settings(settings.default, max_examples=few, stateful_step_count=25)
    )
    proven = sum(count for (_state, outcome), count in reached.items() if outcome == "repaired")
    assert proven >= 2, f"no life came far enough: {reached}"
    assert tried["in-work"] >= 2, f"hardly any corner was cut: {tried}"
    assert "handed-back" in {state for state, _outcome in reached}
