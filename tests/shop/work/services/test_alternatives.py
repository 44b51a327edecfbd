from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.floor.models import Stay
from shop.floor.selectors import costs_so_far
from shop.work.models import Alternative, RecallTold, WorkOrder
from shop.work.selectors.taking import left_of_jobs
from shop.work.services import add_line, make_estimate, offer_estimate
from shop.work.services.alternatives import add_alternative, drop_alternative
from shop.work.services.bench import Bench
from shop.work.services.errors import JobError
from shop.work.services.estimate_lines import Wanted
from shop.work.services.estimates import net_of_estimate
from tests.factories.units import TODAY, RecallCheckFactory
from tests.shop.work.bench import a_belt, a_job, looked_at, said

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def draft(technician):
    """A belt at 120 with an hour's labour at 80, in a draft."""
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    return make_estimate(job=job, by=technician, at=job.opened_at)


def with_choice(draft, technician):
    """A: the belt. B: the belt and the keypad at 60. C: we pay 35 for the machine."""
    add_alternative(estimate=draft, name="Repair")
    add_alternative(estimate=draft, name="Repair and keypad")
    add_alternative(estimate=draft, name="We take it", sort="donor", we_pay=Decimal(35))
    keypad = Wanted("fee", "keypad overlay", unit_price=Decimal(60), only_in="B")
    add_line(estimate=draft, wanted=keypad, on=TODAY)
    return offer_estimate(estimate=draft, by=technician, at=draft.made_at)


def choice(estimate, letter):
    return estimate.alternatives.get(letter=letter)


def test_each_alternative_has_its_own_sum(draft, technician):
    estimate = with_choice(draft, technician)
    sums = [net_of_estimate(estimate, one) for one in estimate.alternatives.all()]
    assert sums == [Decimal(200), Decimal(260), Decimal(0)]


def test_the_yes_says_which_alternative_and_goes_as_far_as_it(draft, technician):
    estimate = with_choice(draft, technician)
    approval = said(estimate, technician, alternative=choice(estimate, "A"))
    assert (approval.alternative.letter, approval.up_to) == ("A", Decimal(200))


@pytest.mark.parametrize(("letter", "lines"), [("A", 2), ("B", 3)])
def test_only_what_was_chosen_is_agreed(draft, technician, letter, lines):
    estimate = with_choice(draft, technician)
    said(estimate, technician, alternative=choice(estimate, letter))
    assert len(Bench(estimate.job).agreed) == lines
    assert len(left_of_jobs([estimate.job])) == 1


def test_a_yes_without_a_choice_is_asked_for_it(draft, technician):
    estimate = with_choice(draft, technician)
    with pytest.raises(JobError, match="Say which"):
        said(estimate, technician)


def test_a_machine_sold_to_us_is_ours_at_its_price(draft, technician):
    estimate = with_choice(draft, technician)
    said(estimate, technician, alternative=choice(estimate, "C"))
    job = estimate.job
    job.refresh_from_db()
    assert (job.state, job.outcome, job.is_open) == ("taken-over", "bought", False)
    ours = Stay.objects.here().get(unit=job.unit)
    assert (ours.owner, ours.came_from) == (None, job.owner)
    assert costs_so_far([ours])[ours.pk] == Decimal(35)


def test_one_alternative_is_no_choice(draft, technician):
    add_alternative(estimate=draft, name="Repair")
    with pytest.raises(JobError, match="no choice"):
        offer_estimate(estimate=draft, by=technician, at=draft.made_at)


def test_an_alternative_without_lines_is_not_offered(draft, technician):
    for name in ("Repair", "Nothing"):
        add_alternative(estimate=draft, name=name)
    for line in draft.lines.all():
        line.only_in = "A"
        line.save()
    with pytest.raises(JobError, match="no lines"):
        offer_estimate(estimate=draft, by=technician, at=draft.made_at)


def test_an_alternative_with_lines_of_its_own_is_not_dropped(draft, technician):
    add_alternative(estimate=draft, name="Repair")
    two = add_alternative(estimate=draft, name="Repair and keypad")
    keypad = Wanted("fee", "keypad overlay", unit_price=Decimal(60), only_in="B")
    add_line(estimate=draft, wanted=keypad, on=TODAY)
    with pytest.raises(JobError, match="keypad overlay"):
        drop_alternative(alternative=two)
    draft.lines.filter(only_in="B").delete()
    drop_alternative(alternative=two)
    assert draft.alternatives.count() == 1


def test_the_next_version_offers_the_same_choice(draft, technician):
    estimate = with_choice(draft, technician)
    said(estimate, technician, yes=False)
    again = make_estimate(job=estimate.job, by=technician, at=draft.made_at)
    assert [one.letter for one in again.alternatives.all()] == ["A", "B", "C"]
    assert net_of_estimate(again, choice(again, "B")) == Decimal(260)


def test_an_offered_choice_is_not_changed_by_anybody(draft, technician):
    with_choice(draft, technician)
    with pytest.raises(IntegrityError), transaction.atomic():
        Alternative.objects.update(name="cheaper")
    with pytest.raises(JobError, match="stays as it is"):
        add_alternative(estimate=draft, name="another")


def test_a_recalled_machine_is_bought_only_once_its_owner_was_told(draft, technician):
    estimate = with_choice(draft, technician)
    RecallCheckFactory(unit=estimate.job.unit, outcome="fits")
    words = {"alternative": choice(estimate, "C")}
    with pytest.raises(JobError, match="has to be told"), transaction.atomic():
        said(estimate, technician, **words)
    said(estimate, technician, recalls_told="phone", **words)
    assert RecallTold.objects.get().told_to == str(estimate.job.owner)


def test_a_limit_given_on_arrival_sells_no_machine(draft, technician):
    """It says what may be spent; nobody agreed to part with the machine."""
    WorkOrder.objects.update(spend_limit=Decimal(500))
    estimate = with_choice(draft, technician)
    with pytest.raises(JobError, match="sells no machine"), transaction.atomic():
        said(estimate, technician, alternative=choice(estimate, "C"), channel="limit")
    assert Stay.objects.here().get(unit=estimate.job.unit).owner == estimate.job.owner
