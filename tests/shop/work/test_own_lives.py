"""Whole lives of our own machines by chance: worked on, looked at, recalled and sold in any order.

What must hold of a machine that left is read from the rows themselves, not asked of the conditions
of its exit.
"""

import uuid
from collections import Counter
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import transaction
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import initialize, invariant, rule, run_state_machine_as_test

from shop.floor.models import MachineCost
from shop.people.seats import SEATS
from shop.resale.models import Sale
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
from shop.work.services.intake import open_own_job
from tests.factories.resale import AnswerFactory, FreshnessRule, ready_stay
from tests.factories.shop import CustomerFactory
from tests.factories.units import TODAY, ComponentFactory, PersonFactory, RecallCheckFactory
from tests.shop.work.bench import a_belt, shop_rules
from tests.shop.work.test_lives import ON_HAND, Lives, seats
from units.inspections.models import Inspection
from units.inspections.selectors import standing_findings

SALES = [way.key for way in exits().values() if way.sale]
gone = Counter()  # by which exit the machines left, lest the invariants hold of nothing


class OwnLives(Lives):
    @initialize()
    def opened(self):
        shop_rules()
        for act in FlatRate.Act.values:
            component = ComponentFactory(slug="running-belt")
            FlatRate.objects.create(act=act, component=component, minutes=60)
        self.people = {seat: PersonFactory(seats=[seat]) for seat in SEATS}
        self.stay, self.sold_at, self.buyer = ready_stay(), None, CustomerFactory()
        self.unit = self.stay.unit
        self.open_job("owner")
        self.belt = a_belt(self.job, on_hand=str(ON_HAND))

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
        if not hasattr(self, "stay") or not self.stay.left_on:
            return
        standing = standing_findings([self.unit])[self.unit.pk]
        if self.stay.left in {"sold", "as-is", "donated"}:
            assert not [one for one in standing if one.holds], "left though it is held"
        if self.stay.left == "sold":
            assert not standing, "sold as ready with a fault"
            assert self.last_test_is_newer_than_the_work()
        assert not WorkOrder.objects.filter(unit=self.unit).open().exists(), "left amid a job"

    def last_test_is_newer_than_the_work(self):
        tests = Inspection.objects.filter(unit=self.unit, protocol__occasion="final")
        at = tests.exclude(finished_at=None).latest("finished_at").finished_at
        times = TimeEntry.objects.filter(job__unit=self.unit, recorded_at__gt=at)
        uses = PartUse.objects.filter(job__unit=self.unit, move__recorded_at__gt=at)
        return not times.exists() and not uses.exists()

    @invariant()
    def what_is_recalled_is_not_sold(self):
        """By whatever exit: the newest look at the list when it left said that nothing fits."""
        if not hasattr(self, "stay") or self.stay.left not in {
            "sold", "as-is", "for-parts", "wholesale", "donated"
        }:  # fmt: skip
            return
        if self.sold_at is None:
            self.sold_at = self.minute
            newest = self.unit.recall_checks.order_by("-recorded_at", "-pk").first()
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
    assert gone["sold"] >= 2, f"too few were sold: {gone}"
