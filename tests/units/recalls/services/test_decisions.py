from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.factories.units import MORNING, MachineModelFactory, PersonFactory, UnitFactory
from tests.units.recalls.ground import PROSE, load, record
from units.catalogue.models import Unit
from units.recalls.models import Recall, RecallDecision
from units.recalls.selectors import match_of, matches_of
from units.recalls.services import RecallError, decide_match, record_remedy

pytestmark = pytest.mark.django_db
NEXT_DAY = MORNING + timedelta(days=1)


@pytest.fixture
def unit():
    load(record())
    return UnitFactory(model=MachineModelFactory(number="TR-90"), serial="CV125000")


@pytest.fixture
def by():
    return PersonFactory()


def match(unit):
    return match_of(Recall.objects.get(), Unit.objects.with_identity().get(pk=unit.pk))


def decide(unit, by, outcome="dismissed", **changes):
    basis = changes.pop("basis", None) or match(unit).basis
    said = {"reason": "another frame", "basis": basis, "at": MORNING}
    return decide_match(
        recall=Recall.objects.get(), unit=unit, outcome=outcome, by=by, **said | changes
    )


def remedy(unit, by, **changes):
    said = {"reason": "board changed", "advice": "counsel said so", "basis": match(unit).basis}
    return record_remedy(
        recall=Recall.objects.get(), unit=unit, by=by, **{"at": NEXT_DAY} | said | changes
    )


@pytest.mark.parametrize(("outcome", "holds"), [("confirmed", True), ("dismissed", False)])
def test_a_decision_counts_with_its_reason_and_who_made_it(unit, by, outcome, holds):
    decision = decide(unit, by, outcome, reason=" looked at the plate ")
    assert (decision.reason, decision.how) == ("looked at the plate", "serial in range")
    assert (decision.decided_by, decision.decided_at) == (by, MORNING)
    assert (match(unit).state, match(unit).holds) == (outcome, holds)


def test_the_newest_decision_counts(unit, by):
    decide(unit, by, "dismissed")
    decide(unit, by, "confirmed", at=NEXT_DAY)
    assert match(unit).state == "confirmed"


def test_the_same_decision_sent_twice_is_one(unit, by):
    assert decide(unit, by) == decide(unit, by, at=NEXT_DAY)
    assert RecallDecision.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"reason": "  "}, "reason"),
        ({"outcome": "remedied"}, "outcome"),
        ({"outcome": "maybe"}, "outcome"),
        ({"basis": "0" * 64}, "reason"),
    ],
)
def test_a_decision_that_cannot_stand_is_refused_at_its_field(unit, by, wrong, field):
    with pytest.raises(RecallError) as caught:
        decide(unit, by, **wrong)
    assert caught.value.field == field
    assert not RecallDecision.objects.exists()


def test_a_machine_that_the_notice_does_not_mean_cannot_be_decided_on(unit, by):
    seen = match(unit).basis
    Unit.objects.filter(pk=unit.pk).update(serial="CV130000")
    with pytest.raises(RecallError, match="does not mean the machine any more"):
        decide(unit, by, basis=seen)


def test_what_was_corrected_since_the_page_was_opened_is_read_again(unit, by):
    seen = match(unit).basis
    load(record(text=PROSE.replace("129999", "128888")), at=NEXT_DAY)
    with pytest.raises(RecallError, match="corrected since this page was opened"):
        decide(unit, by, basis=seen)


def test_a_dismissed_match_is_open_again_when_the_ranges_change(unit, by):
    decide(unit, by)
    load(record(text=PROSE.replace("129999", "128888")), at=NEXT_DAY)
    assert match(unit).state == "open"
    assert match(unit).decision.outcome == "dismissed"


def test_a_dismissed_match_stays_so_when_only_the_wording_changes(unit, by):
    decide(unit, by)
    load(record(text=f"It folds. {PROSE}", Remedies=[{"Name": "Refund"}]), at=NEXT_DAY)
    assert match(unit).state == "dismissed"


def test_a_dismissed_match_is_open_again_when_the_serial_is_corrected(unit, by):
    decide(unit, by)
    Unit.objects.filter(pk=unit.pk).update(serial="CV125001")
    assert match(unit).state == "open"


def test_a_confirmed_recall_holds_even_when_the_notice_names_the_machine_no_more(unit, by):
    decide(unit, by, "confirmed")
    load(record(text="Model TR-95.", Title="Recall", Products=[]), at=NEXT_DAY)
    (held,) = matches_of([unit])[unit.pk]
    assert (held.state, held.holds) == ("confirmed", True)


def test_a_recorded_remedy_with_advice_holds_no_longer(unit, by):
    decide(unit, by, "confirmed")
    decision = remedy(unit, by)
    assert (decision.reason, decision.advice) == ("board changed", "counsel said so")
    assert (match(unit).state, match(unit).holds) == ("remedied", False)


def test_a_remedy_needs_a_confirmed_recall_first(unit, by):
    with pytest.raises(RecallError, match="Confirm first"):
        remedy(unit, by)


@pytest.mark.parametrize(
    ("wrong", "field"), [({"reason": ""}, "reason"), ({"advice": " "}, "advice")]
)
def test_a_remedy_says_what_was_done_and_who_advised(unit, by, wrong, field):
    decide(unit, by, "confirmed")
    with pytest.raises(RecallError) as caught:
        remedy(unit, by, **wrong)
    assert caught.value.field == field
    assert match(unit).state == "confirmed"


def test_a_remedy_counts_no_longer_when_the_ranges_change(unit, by):
    decide(unit, by, "confirmed")
    remedy(unit, by)
    load(record(text=PROSE.replace("129999", "128888")), at=NEXT_DAY)
    assert match(unit).holds


def test_a_decision_is_never_changed_or_removed(unit, by):
    decision = decide(unit, by)
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        decision.save()
    with pytest.raises(IntegrityError, match="only grows"), transaction.atomic():
        decision.delete()


@pytest.mark.parametrize("wrong", [{"reason": ""}, {"outcome": "remedied"}])
def test_the_database_itself_wants_a_reason_and_advice(unit, by, wrong):
    said = {"outcome": "dismissed", "reason": "x", "how": "model named", "basis": "0" * 64}
    with pytest.raises(IntegrityError), transaction.atomic():
        RecallDecision.objects.create(
            recall=Recall.objects.get(), unit=unit, decided_at=MORNING, decided_by=by,
            **said | wrong,
        )  # fmt: skip
