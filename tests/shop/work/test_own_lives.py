"""Whole lives of our own machines by chance: worked on, looked at, recalled and sold in any order.

What must hold of a machine that left is read from the rows themselves, not asked of the conditions
of its exit.
"""

import uuid
from collections import Counter
from contextlib import contextmanager
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import transaction
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, rule, run_state_machine_as_test

from shop.floor.models import MachineCost, Stay
from shop.people.seats import SEATS
from shop.resale.models import Disposal, Sale
from shop.resale.selectors import exits, reservation_of
from shop.resale.services import (
    Agreed,
    ResaleError,
    attach_paper,
    dispose_machine,
    release_reservation,
    reserve_machine,
    sell_machine,
)
from shop.work.models import Clock, FlatRate, PartUse, TimeEntry, WorkOrder
from shop.work.services import cancel_job
from shop.work.services.intake import open_own_job
from tests.factories.resale import AnswerFactory, FreshnessRule, ready_stay
from tests.factories.shop import CustomerFactory
from tests.factories.units import TODAY, ComponentFactory, PersonFactory, RecallCheckFactory
from tests.shop.work.bench import a_belt, shop_rules
from tests.shop.work.test_lives import ON_HAND, Lives, seats
from units.inspections.models import Inspection, StepResult
from units.inspections.selectors import standing_findings

SALES = [way.key for way in exits().values() if way.sale]
TO_PEOPLE = [*SALES, "donated"]
BAD = {"glazed", "cracked"}
gone = Counter()  # by which exit the machines left, lest the invariants hold of nothing
without_a_flaw = Counter()  # the same presses on a sound machine, lest a flaw be tried in vain


class OwnLives(Lives):
    @initialize(flaws=st.booleans())
    def opened(self, flaws):
        shop_rules()
        for act in FlatRate.Act.values:
            component = ComponentFactory(slug="running-belt")
            FlatRate.objects.create(act=act, component=component, minutes=60)
        self.people = {seat: PersonFactory(seats=[seat]) for seat in SEATS}
        self.stay, self.buyer, self.flawed = ready_stay(), CustomerFactory(), False
        self.unit = self.stay.unit
        self.open_job("owner")
        self.belt = a_belt(self.job, on_hand=str(ON_HAND))
        if flaws:
            self.try_each_flaw()

    def teardown(self):
        if hasattr(self, "stay"):
            self.stay.refresh_from_db()
            gone[self.stay.left] += 1
        super().teardown()

    def press(self, deed, seat, **said):
        """As before; the refusals of the sale are refusals too."""
        with_refusals = super().press
        try:
            with transaction.atomic():
                return with_refusals(deed, seat, **said)
        except ResaleError:
            return None

    @rule(seat=seats)
    def open_job(self, seat):
        said = {"stay": self.stay, "complaint": "Refurbish.", "key": self.key()}
        self.job = self.press(open_own_job, seat, **said) or self.job

    def key(self):
        self.pressed = getattr(self, "pressed", 5000) + 1
        return uuid.UUID(int=self.pressed)

    def hand_out(self, seat, signed):
        """What a good shop does with a finished machine of its own."""
        if standing_findings([self.unit])[self.unit.pk]:
            return self.open_job("owner")
        self.attach("owner", "retail")
        return self.sell("owner", "retail", "5-15")

    @rule()
    def try_each_flaw(self):
        """Ready but for one thing, and the owner presses every way out; once in a life."""
        if self.flawed or not self.made_ready():
            return
        self.flawed = True
        for way in TO_PEOPLE:
            with self.only_tried():
                self.leave(way)
                without_a_flaw[way] += bool(Stay.objects.get(pk=self.stay.pk).left)
        for flaw in (self.wear, self.break_it, self.open_job, self.find_recalled, self.doubt):
            with self.only_tried():
                flaw("owner")
                for way in TO_PEOPLE:
                    with self.only_tried():
                        self.leave(way)
                        self.hold_what_is_held()

    def made_ready(self):
        """What is under way is finished, what is reserved let go, the recalls read."""
        for _step in range(9):
            job = self.now()
            if job.state == "closed" and job.outcome == "repaired":
                break
            if job.state in {"closed", "cancelled"}:
                self.open_job("owner")
            self.next_deed()
        self.release("owner")
        self.read_recalls("owner", "none")
        self.ask_the_maker("owner", "supported")
        self.stay.refresh_from_db()
        return not self.stay.left_on and self.now().outcome == "repaired"

    @contextmanager
    def only_tried(self):
        """What is done within is undone."""
        job, before = self.job, transaction.savepoint()
        yield
        transaction.savepoint_rollback(before)
        self.job = job
        self.stay.refresh_from_db()

    def leave(self, way):
        self.attach("owner", way)
        if way in SALES:
            return self.sell("owner", way, "5-15")
        said = {"stay": self.stay, "way": exits()[way], "taker": "A school", "reason": "old"}
        return self.press(dispose_machine, "owner", **said, on=TODAY, key=self.key())

    def wear(self, seat, belt="glazed", frame="sound"):
        """A fault that was found and left, with no job open any more."""
        self.open_job(seat)
        self.look(seat, "arrival", belt, frame)
        self.press(cancel_job, seat, job=self.job, reason="sold as it is", left=False)

    def break_it(self, seat):
        self.wear(seat, "clean", "cracked")

    def find_recalled(self, seat):
        self.read_recalls(seat, "fits")

    def doubt(self, seat):
        self.read_recalls(seat, "unsure")

    def hold_what_is_held(self):
        """The invariants, amid a rule."""
        self.what_is_held_is_not_sold()
        self.what_is_recalled_is_not_sold()
        self.nothing_is_put_into_what_has_left()

    @rule(steps=st.integers(5, 14))
    def go_on(self, steps):
        for _step in range(steps):
            self.next_deed()

    @rule(seat=seats, outcome=st.sampled_from(["none", "none", "none", "fits", "unsure"]))
    def read_recalls(self, seat, outcome):
        def deed(by, at):
            RecallCheckFactory(unit=self.unit, outcome=outcome, recorded_by=by, recorded_at=at)

        self.press(deed, seat)

    @rule(seat=seats, status=st.sampled_from(["supported", "limited", "ended"]))
    def ask_the_maker(self, seat, status):
        def deed(by, at):
            words = {"recorded_by": by, "recorded_at": at}
            AnswerFactory(model=self.unit.model, status=status, **words)

        self.press(deed, seat)

    @rule(seat=seats, way=st.sampled_from([*SALES, "retail", "donated"]))
    def attach(self, seat, way):
        said = {"stay": self.stay, "way": exits()[way], "key": self.key(), "on": TODAY}
        self.press(attach_paper, seat, **said)

    @rule(seat=seats)
    def reserve(self, seat):
        said = {"customer": CustomerFactory(), "amount": Decimal(50), "method": "cash"}
        days = {"until_on": TODAY + timedelta(9), "on": TODAY, "key": self.key()}
        self.press(reserve_machine, seat, stay=self.stay, **said, **days)

    @rule(seat=seats)
    def release(self, seat):
        if held := reservation_of(self.stay):
            said = {"reservation": held, "keep": False, "reason": "", "on": TODAY}
            self.press(release_reservation, seat, **said)

    @rule(seat=seats, way=st.sampled_from(SALES), outlet=st.sampled_from(["5-15", "6-20", ""]))
    def sell(self, seat, way, outlet):
        said = {"stay": self.stay, "customer": self.buyer, "on": TODAY, "way": exits()[way]}
        self.press(sell_machine, seat, **said, agreed=Agreed(outlet=outlet), key=self.key())

    @rule(seat=seats, way=st.sampled_from(["donated", "scrapped"]))
    def give_away(self, seat, way):
        if self.minute > 25:
            said = {"stay": self.stay, "way": exits()[way], "taker": "A school", "reason": "old"}
            self.press(dispose_machine, seat, **said, on=TODAY, key=self.key())

    @invariant()
    def it_is_out_of_the_house_only_by_an_exit(self):
        """Ours leaves by sale or gift; no job hands it back to anybody."""
        if hasattr(self, "stay"):
            self.stay.refresh_from_db()
            assert self.stay.left in {"", *(way.left for way in exits().values())}

    @invariant()
    def what_is_held_is_not_sold(self):
        if not (left := self.how_it_left()):
            return
        way, at = left
        seen = self.last_seen(at)
        if way in {"sold", "as-is", "donated"}:
            assert "cracked" not in seen.values(), "left though it is held"
        if way == "sold":
            assert not BAD & set(seen.values()), "sold as ready with a fault"
            assert self.last_test_is_newer_than_the_work()
        ends = {"closed", "cancelled"}
        jobs = WorkOrder.objects.filter(unit=self.unit, opened_at__lte=at)
        assert {job.state for job in jobs} <= ends, "left amid a job"

    def how_it_left(self):
        """The stay's word for it and the moment, by the paper of its leaving; None while here."""
        if not hasattr(self, "stay"):
            return None
        self.stay.refresh_from_db()
        if not self.stay.left_on:
            return None
        papers = [*Sale.objects.filter(stay=self.stay), *Disposal.objects.filter(stay=self.stay)]
        assert len(papers) == 1, "left without a paper, or twice"
        return self.stay.left, papers[0].recorded_at

    def last_seen(self, at):
        """How each component looked last, by the rows of finished inspections alone."""
        results = StepResult.objects.filter(
            inspection__unit=self.unit, inspection__finished_at__lte=at
        )
        results = results.order_by("inspection__finished_at", "pk")
        return dict(results.values_list("step__component", "condition"))

    def last_test_is_newer_than_the_work(self):
        tests = Inspection.objects.filter(unit=self.unit, protocol__occasion="final")
        at = tests.exclude(finished_at=None).latest("finished_at").finished_at
        times = TimeEntry.objects.filter(job__unit=self.unit, recorded_at__gt=at)
        uses = PartUse.objects.filter(job__unit=self.unit, move__recorded_at__gt=at)
        return not times.exists() and not uses.exists()

    @invariant()
    def what_is_recalled_is_not_sold(self):
        """By whatever exit to people: the newest look at the list then said that nothing fits."""
        way, at = self.how_it_left() or ("", None)
        if way in {"sold", "as-is", "for-parts", "wholesale", "donated"}:
            read = self.unit.recall_checks.filter(recorded_at__lte=at)
            newest = read.order_by("-recorded_at", "-pk").first()
            assert newest.outcome == "none", "left though a recall may fit it"

    @invariant()
    def nothing_is_put_into_what_has_left(self):
        if not hasattr(self, "stay") or not self.stay.left_on:
            return
        sale = Sale.objects.filter(stay=self.stay).first()
        if sale:
            costs = MachineCost.objects.filter(stay=self.stay).values_list("amount", flat=True)
            assert sale.cost == sum(costs), "its cost grew after it was sold"
        assert not Clock.objects.filter(job__unit=self.unit, stopped_at=None).exists()


@pytest.mark.django_db
def test_no_life_of_our_own_machine_sells_what_is_held():
    FreshnessRule.objects.get_or_create(channel="phone", defaults={"days": 180})
    few = settings.default.max_examples // 5
    run_state_machine_as_test(
        OwnLives, settings=settings(settings.default, max_examples=few, stateful_step_count=20)
    )
    assert gone["sold"], f"none was sold for good: {gone}"
    tried = {way: without_a_flaw[way] for way in TO_PEOPLE}
    assert min(tried.values()) >= 2, f"flaws were tried where nothing leaves anyway: {tried}"
