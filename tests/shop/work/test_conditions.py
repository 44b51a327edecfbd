"""Every condition of the table of states, broken once in an otherwise whole life of a job: its step
is refused in words, and nothing is left behind.

``test_ways`` shows that a service names what it looked at; here it is shown that it did look. What
closing asks for is broken one by one in ``domain/test_closing.py``.
"""

import uuid
from decimal import Decimal

import pytest
from django.db import transaction

from shop.work.domain.states import WAYS
from shop.work.models import Step, WorkOrder
from shop.work.services import (
    answer_estimate,
    cancel_job,
    hand_back,
    make_estimate,
    offer_estimate,
    take_part,
)
from shop.work.services.clocks import start_clock
from shop.work.services.errors import JobError
from shop.work.services.hand_back import Leaving
from shop.work.services.left_standing import give_notice, keep_machine
from tests.factories.units import TODAY, ComponentFactory, RecallCheckFactory
from tests.shop.work.bench import looked_at
from tests.shop.work.test_ways import Life, a_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


class Broken(Life):
    """A life that may be spoilt before its step; ``said`` changes what is said with the step."""

    def __init__(self, way, purpose):
        super().__init__(way, purpose)
        self.said, self.spoil_draft, self.notice = {}, None, True

    def do_offer(self, by):
        if self.spoil_draft == "half a pair":
            looked_at(self.job, self.boss, self.at(), deck="grooved", running_belt="glazed")
        estimate = self.draft()
        lines = estimate.lines.all()
        if self.spoil_draft == "no lines":
            lines.delete()
        elif self.spoil_draft == "no price":
            lines.update(unit_price=0)
        elif self.spoil_draft == "half a pair":
            lines.filter(component="deck").delete()
        elif self.spoil_draft == "not owed":
            lines.filter(line_class="labour").update(component=ComponentFactory(slug="fan"))
        offer_estimate(estimate=estimate, **self.act(by))

    def answered(self, yes, by):
        words = {"given_by": "Dana Mabry", "channel": "phone"} | self.said
        if yes and self.way.deed == "sell-to-us":
            words["alternative"] = self.estimate.alternatives.filter(sort="donor").first()
        return answer_estimate(estimate=self.estimate, yes=yes, **words, **self.act(by))

    def do_yes(self, by):
        self.answered(True, by)

    do_sell_to_us = do_yes

    def do_no(self, by):
        self.answered(False, by)

    do_no_but = do_no

    def do_cancel(self, by):
        words = {"reason": "moved away", "left": True} | self.said
        cancel_job(job=self.job, **words, **self.act(by))

    def do_hand_back(self, by):
        things = [thing.thing for thing in self.job.came_along.all()]
        words = {"taken_by": "Dana Mabry", "returned": things, "notice_signed": True} | self.said
        hand_back(job=self.job, leaving=Leaving(**words), **self.act(by))

    def do_keep(self, by):
        if self.notice:
            said = {"how": "mail", "given_on": TODAY, "key": uuid.uuid4()}
            give_notice(job=self.job, **said, **self.act())
        self.minute += 24 * 60
        keep_machine(job=self.job, **{"reason": "county order 12"} | self.said, **self.act(by))


def drafted(how):
    def spoil(life):
        life.spoil_draft = how

    return spoil


def saying(**other):
    def spoil(life):
        life.said = other

    return spoil


def not_offered(life):
    life.estimate = make_estimate(job=life.job, **life.act())


def answered_before(life):
    life.answered(life.way.deed in {"yes", "sell-to-us"}, life.boss)


def replaced(life):
    older = life.estimate
    life.to_offered(life.draft())
    life.estimate = older


def limited(life):
    WorkOrder.objects.filter(pk=life.job.pk).update(spend_limit=Decimal(500))
    life.said = {"channel": "limit"}


def elsewhere(life):
    WorkOrder.objects.filter(pk=life.job.pk).update(stay=None)


def with_a_part_in_it(life):
    state = WorkOrder.objects.get(pk=life.job.pk).state
    WorkOrder.objects.filter(pk=life.job.pk).update(state="in-work")
    said = {"part": life.belt, "quantity": Decimal(1), "key": uuid.uuid4()}
    take_part(job=life.job, **said, **life.act())
    WorkOrder.objects.filter(pk=life.job.pk).update(state=state)


def with_a_clock(life):
    start_clock(job=life.job, key=uuid.uuid4(), **life.act())


def recalled(life):
    RecallCheckFactory(unit=life.job.unit, outcome="fits")


def cracked(life):
    looked_at(life.job, life.boss, life.at(), frame="cracked")


def without_notice(life):
    life.notice = False


ANSWERS = {
    "offered": (not_offered, "not offered yet"),
    "unanswered": (answered_before, r"already wrote down|is (approved|ours now|estimated)"),
    "newest": (replaced, "has taken the place"),
}
GIVEN_UP = {
    "parts-back": (with_a_part_in_it, "Put them back first"),
    "clocks-stopped": (with_a_clock, "Stop it first"),
}
TOLD = {"recalls-told": (recalled, "has to be told")}
REASON = {"reason": (saying(reason=" "), "Say why")}
BREAKS = {
    "offer": {
        "lines": (drafted("no lines"), "no lines"),
        "priced": (drafted("no price"), "Give a price first"),
        "pairs": (drafted("half a pair"), "put right together or not at all"),
        "covered": (drafted("not owed"), "does not owe this"),
    },
    "yes": ANSWERS,
    "no": ANSWERS,
    "no-but": ANSWERS,
    "sell-to-us": ANSWERS
    | GIVEN_UP
    | TOLD
    | {
        "for-sale": (elsewhere, "has to come in first"),
        "asked": (limited, "sells no machine"),
    },
    "cancel": REASON | GIVEN_UP | TOLD | {"not-held": (cracked, "Close the job as unsafe")},
    "hand-back": TOLD
    | {
        "taken-by": (saying(taken_by=" "), "Say who takes"),
        "things": (saying(returned=[]), "does not go back"),
        "notice-signed": (saying(notice_signed=False), "have it signed"),
    },
    "keep": REASON | TOLD | {"notices": (without_notice, "never asked to collect")},
}


def every_break():
    """Each condition of each deed and purpose once, from the first state it starts in."""
    seen = {}
    for way in WAYS:
        for purpose in sorted(way.purposes) if way.deed != "close" else ():
            for key in way.conditions:
                # Under warranty the yes is given in the press of its offer.
                if (way.deed, purpose) != ("yes", "warranty"):
                    seen.setdefault((way.deed, purpose, key), way)
    return [(way, purpose, key) for (_deed, purpose, key), way in seen.items()]


TRIES = every_break()


@pytest.mark.parametrize(
    ("way", "purpose", "key"), TRIES, ids=[f"{w.deed}-{p}-{key}" for w, p, key in TRIES]
)
def test_a_step_whose_condition_is_broken_is_refused_in_words(way, purpose, key):
    spoil, words = BREAKS[way.deed][key]
    life = Broken(way, purpose)
    life.carry()
    if (key, purpose) == ("unanswered", "own"):
        life.said = {"channel": "own"}
    spoil(life)
    life.job.refresh_from_db()
    before = life.job.state, Step.objects.count()
    refused = pytest.raises(JobError, match=words)
    with transaction.atomic(), refused, transaction.atomic():
        # What the owner offers under warranty is his favour; the bench may not.
        life.step(a_person("technician") if key == "covered" else life.boss)
    life.job.refresh_from_db()
    assert (life.job.state, Step.objects.count()) == before


def test_no_condition_is_left_unbroken():
    assert {(way.deed, key) for way, _purpose, key in TRIES} == {
        (deed, key) for deed, breaks in BREAKS.items() for key in breaks
    }
    assert {way.deed for way in WAYS} - set(BREAKS) == {"start", "close"}
