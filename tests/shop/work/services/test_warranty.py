"""Our own warranty. The terms of the reference table: common practice, no published source."""

import uuid
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from shop.books.domain.months import Month
from shop.books.models import JournalLine
from shop.books.selectors.figures import figures_of
from shop.books.services import post_pending
from shop.books.services.accounts import FOLDER, posting_rules
from shop.books.services.accounts import load_reference as load_accounts
from shop.till.models import Invoice
from shop.work.domain.warranty import Repair, Return, Term, by_cause, by_model, owed
from shop.work.models import WarrantyTerm, WorkOrder
from shop.work.selectors.jobs import job_page
from shop.work.selectors.warranty import repeat_failures, standing_of, standing_on
from shop.work.services import (
    add_time,
    close_job,
    hand_back,
    make_estimate,
    offer_estimate,
    put_back_part,
    start_work,
    take_part,
)
from shop.work.services.closing_facts import Ending
from shop.work.services.errors import JobError
from shop.work.services.hand_back import Leaving
from shop.work.services.warranty import CameBack, open_warranty_job, set_warranty_term
from tests.factories.units import TODAY, ComponentFactory
from tests.shop.work.bench import a_job, in_work, later, looked_at, stocked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]
DAY = date(2026, 10, 5)


def test_each_component_is_owed_by_what_was_done_on_it():
    terms = {"replaced": Term(90, 60), "serviced": Term(0, 30)}
    found = owed([("deck", "serviced"), ("belt", "replaced"), ("fan", "sound")], terms, DAY)
    assert [(one.component, one.parts_until, one.labour_until) for one in found] == [
        ("belt", DAY + timedelta(90), DAY + timedelta(60)),
        ("deck", None, DAY + timedelta(30)),
    ]
    assert found[0].runs(DAY + timedelta(90))
    assert not found[0].runs(DAY + timedelta(91))


def test_repeats_are_counted_by_model_and_by_cause():
    belt, deck = frozenset({"belt"}), frozenset({"deck"})
    repairs = [
        Repair(1, belt | deck, (Return(belt, Decimal(30)), Return(belt, Decimal(12)))),
        Repair(1, belt),
        Repair(2, deck),
    ]
    assert (by_model(repairs)[1].repairs, by_model(repairs)[1].back) == (2, 1)
    assert (by_model(repairs)[1].cost, by_model(repairs)[1].share) == (Decimal(42), 0.5)
    assert by_cause(repairs) == {"belt": (2, 1, 0), "deck": (2, 0, 1)}


@pytest.fixture
def terms(db):
    set_warranty_term(work="replaced", parts_days=90, labour_days=60, from_on=date(2020, 1, 1))


def repaired(job, technician, belt, at=10):
    use = take_part(
        job=job, part=belt, quantity=Decimal(1), key=uuid.uuid4(), by=technician, at=later(at)
    )
    add_time(
        job=job, minutes=60, worked_on=TODAY, key=uuid.uuid4(), by=technician, at=later(at + 1)
    )
    looked_at(job, technician, later(at + 2), occasion="final")
    close_job(job=job, ending=Ending("repaired", "here"), by=technician, at=later(at + 3))
    return use


def gone(job, clerk, at):
    things = [thing.thing for thing in job.came_along.all()]
    return hand_back(job=job, leaving=Leaving("Dana Mabry", things), by=clerk, at=later(at))


@pytest.fixture
def first(technician, clerk, terms):
    """A belt replaced and handed back."""
    job = a_job(number="J90001")  # beyond the series, which starts anew for the returns
    job.belt = in_work(job, technician)
    repaired(job, technician, job.belt)
    gone(job, clerk, 20)
    return job


def came_back(first, by, at=None, **other):
    return open_warranty_job(
        first=first,
        back=CameBack("Slips again.", **other),
        key=uuid.uuid4(),
        by=by,
        at=at or later(30),
    )


def test_a_repair_is_owed_from_the_day_it_went_back(first):
    standing = standing_of(first)
    assert (standing.from_on, standing.until) == (TODAY, TODAY + timedelta(90))
    assert [one.job for one in standing_on(TODAY + timedelta(90))] == [first]
    assert standing_on(TODAY + timedelta(91)) == []


def test_a_return_inside_it_opens_a_job_of_its_own_once(first, clerk):
    job = came_back(first, clerk)
    assert (job.purpose, job.warranty_of, job.owner) == ("warranty", first, first.owner)
    again = open_warranty_job(first=first, back=CameBack("x"), key=job.key, by=clerk, at=later(31))
    assert again == job
    with pytest.raises(JobError, match="already open"):
        came_back(first, clerk)


def test_after_it_only_the_owner_stands_for_it_with_a_reason(first, clerk, owner):
    late = later(91 * 24 * 60)
    for by, why in [(clerk, "kind"), (owner, "")]:
        with pytest.raises(JobError, match="is over"):
            came_back(first, by, late, goodwill=why)
    job = came_back(first, owner, late, goodwill="a good customer")
    assert job.steps.get().note == "a good customer"


def test_the_job_is_free_and_its_cost_is_ours(client, first, technician, clerk):
    load_accounts(FOLDER)
    post_pending(through=TODAY, by=None, at=later(25))
    job = came_back(first, clerk)
    stocked(first.belt, "2", cost="80")
    looked_at(job, technician, later(31), running_belt="glazed")
    estimate = make_estimate(job=job, by=technician, at=later(32))
    offer_estimate(estimate=estimate, by=technician, at=later(32))
    job.refresh_from_db()
    assert job.state == "approved"  # nobody has to be asked
    client.force_login(clerk)
    for name, *where in (("job",), ("estimate", 1), ("ticket",)):
        page = " ".join(
            client.get(reverse(name, args=[job.number, *where])).content.decode().split()
        )
        assert f"ree under the warranty of job {first.number}" in page
        assert not [words for words in ("we call first", "up to $", "Together") if words in page]
    start_work(job=job, by=technician, at=later(33))
    use = take_part(
        job=job,
        part=first.belt,
        quantity=Decimal(1),
        key=uuid.uuid4(),
        by=technician,
        at=later(34),
    )
    put_back_part(use=use, by=technician, at=later(35))
    repaired(job, technician, first.belt, at=40)
    invoices = Invoice.objects.count()
    assert gone(job, clerk, 50).invoice is None
    assert Invoice.objects.count() == invoices
    post_pending(through=TODAY, by=None, at=later(60))
    expense = JournalLine.objects.filter(account="5500")
    assert sorted(line.amount for line in expense) == [Decimal(-80), Decimal(80), Decimal(80)]
    assert figures_of(Month.of(TODAY), posting_rules()).hold
    page = job_page(job.number)
    assert page.cost_of_warranty == (Decimal(80), Decimal(30))  # the belt put back is no cost
    assert job_page(first.number).cost_of_warranty is None
    record = repeat_failures().models[0][1]
    assert (record.repairs, record.back, record.cost) == (1, 1, Decimal(110))
    assert repeat_failures().causes == [("running belt", 1, 1, 0)]


def test_a_warranty_job_names_its_repair_or_is_none(first):
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkOrder.objects.filter(pk=first.pk).update(purpose="warranty")


def test_service_brings_no_part_to_stand_for():
    with pytest.raises(JobError, match="no part"):
        set_warranty_term(work="serviced", parts_days=1, labour_days=1, from_on=DAY)
    with pytest.raises(IntegrityError), transaction.atomic():
        WarrantyTerm.objects.create(work="serviced", parts_days=1, labour_days=1, from_on=DAY)


def test_the_desk_opens_it_from_the_first_job(client, first, clerk):
    client.force_login(clerk)
    # The repair lies in the story's October; by the day of the test its warranty may be over.
    WarrantyTerm.objects.update(parts_days=30000)
    said = {"key": uuid.uuid4(), "complaint": "Slips again."}
    page = client.post(reverse("warranty-add", args=[first.number]), said, follow=True)
    assert b"is open under our warranty" in page.content
    assert first.returns.count() == 1


def test_the_page_of_our_warranty_takes_few_queries(
    client, first, owner, django_assert_max_num_queries
):
    WarrantyTerm.objects.update(parts_days=30000)
    client.force_login(owner)
    with django_assert_max_num_queries(12):
        page = client.get(reverse("warranty-list")).content.decode()
    assert first.number in page


def offered(job, by, at, *components):
    """Labour on each of these components, offered under warranty."""
    estimate = make_estimate(job=job, by=by, at=at)
    estimate.lines.all().delete()
    for position, slug in enumerate(components, start=1):
        words = {"line_class": "labour", "description": slug, "component_id": slug}
        money = {"quantity": Decimal(1), "unit_price": Decimal(9), "net": Decimal(9)}
        estimate.lines.create(position=position, minutes=5, **words, **money)
    return offer_estimate(estimate=estimate, by=by, at=at)


def test_what_the_first_repair_is_not_owed_is_not_done_for_nothing(first, technician, owner, clerk):
    """The belt was replaced; that the deck is worn now is another matter."""
    job = came_back(first, clerk)
    ComponentFactory(slug="deck")
    with pytest.raises(JobError, match=r"J90001 does not owe this: deck\."), transaction.atomic():
        offered(job, technician, later(32), "running-belt", "deck")
    offered(job, technician, later(33), "running-belt")
    offered(job, owner, later(34), "running-belt", "deck")  # a favour is his to do
    job.refresh_from_db()
    assert job.state == "approved"


def test_labour_is_owed_for_its_own_days(first, technician, clerk):
    """Parts for 90 days, labour for 60: on day 61 the part alone is owed."""
    job = came_back(first, clerk, later(61 * 24 * 60))
    with pytest.raises(JobError, match="does not owe this"):
        offered(job, technician, later(61 * 24 * 60 + 5), "running-belt")


def test_what_the_owner_stood_for_with_a_reason_is_covered(first, technician, owner):
    late = 91 * 24 * 60
    job = came_back(first, owner, later(late), goodwill="a good customer")
    offered(job, technician, later(late + 5), "running-belt")
    job.refresh_from_db()
    assert job.state == "approved"


def test_no_fee_is_charged_under_our_own_warranty(first, clerk, technician):
    job = came_back(first, clerk)
    ending = Ending("unsafe", "here", notice="The frame is cracked.")
    close_job(job=job, ending=ending, by=technician, at=later(32))
    leaving = Leaving("Dana Mabry", ["safety-key"], notice_signed=True, fee=Decimal(40))
    with pytest.raises(JobError, match="Under our own warranty nothing is charged"):
        hand_back(job=job, leaving=leaving, by=clerk, at=later(33))
