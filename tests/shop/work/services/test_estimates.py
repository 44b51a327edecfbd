from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from shop.till.domain.errors import TillError
from shop.till.models import LabourRate
from shop.work.models import Approval, Estimate, EstimateLine
from shop.work.services import add_line, drop_line, make_estimate, offer_estimate, start_work
from shop.work.services.errors import JobError
from shop.work.services.estimate_lines import Wanted, change_line
from tests.factories.parts import FitFactory, PartFactory, SupplierPriceFactory
from tests.factories.units import MORNING, TODAY, ComponentFactory
from tests.shop.work.bench import (
    a_belt,
    a_job,
    an_own_job,
    estimated,
    in_work,
    later,
    looked_at,
    said,
    stocked,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


def drafted(job, by, **found):
    looked_at(job, by, **found)
    return make_estimate(job=job, by=by, at=MORNING)


def lines_of(estimate):
    names = ("line_class", "description", "quantity", "unit_price", "net")
    return list(estimate.lines.values_list(*names))


def test_findings_become_priced_lines(technician):
    job = a_job()
    belt = a_belt(job, cost="80")
    estimate = drafted(job, technician, running_belt="glazed")
    assert lines_of(estimate) == [
        ("part", str(belt), Decimal(1), Decimal(120), Decimal(120)),
        ("labour", "Replace: running belt", Decimal(1), Decimal(80), Decimal(80)),
    ]


def test_every_proposed_line_has_its_reason(technician):
    estimate = drafted(a_job(), technician, running_belt="glazed")
    assert all("belt is worn" in line.reason for line in estimate.lines.all())


def test_a_worn_deck_brings_belt_and_deck_together(technician):
    estimate = drafted(a_job(), technician, deck="grooved")
    parts = estimate.lines.filter(line_class="part")
    assert set(parts.values_list("component", flat=True)) == {"running-belt", "deck"}


def test_a_supplier_s_price_serves_where_the_shelf_is_empty(technician):
    job = a_job()
    SupplierPriceFactory(part=a_belt(job, on_hand="0"), cost=Decimal("62.5"))
    estimate = drafted(job, technician, running_belt="glazed")
    assert estimate.lines.first().unit_price == Decimal("93.75")


def test_a_component_without_known_part_is_a_line_to_be_found(technician):
    line = drafted(a_job(), technician, running_belt="glazed").lines.first()
    assert (line.description, line.unit_price) == ("Part to be found: running belt", Decimal(0))


def test_a_finding_that_no_rule_explains_is_looked_into(technician):
    line = drafted(a_job(), technician, fan="odd").lines.get()
    assert (line.description, line.minutes) == ("Find the cause: fan", 30)
    assert line.reason.startswith("Found odd")


def test_a_sound_machine_gives_an_empty_draft(technician):
    assert not drafted(a_job(), technician).lines.exists()


def test_a_draft_asked_for_twice_is_one_draft(technician):
    job = a_job()
    first = drafted(job, technician, running_belt="glazed")
    assert make_estimate(job=job, by=technician, at=later(1)) == first
    assert Estimate.objects.count() == 1


def test_drafting_leaves_the_job_where_it_is(technician):
    job = a_job()
    drafted(job, technician)
    job.refresh_from_db()
    assert job.state == "logged"


def test_without_price_rules_the_refusal_says_who_sets_them(technician):
    LabourRate.objects.all().delete()
    with pytest.raises(TillError, match="Rates"):
        drafted(a_job(), technician, running_belt="glazed")
    assert not Estimate.objects.exists()


def test_no_estimate_is_made_for_a_job_that_is_over(technician):
    with pytest.raises(JobError):
        make_estimate(job=a_job(state="closed"), by=technician, at=MORNING)


def test_an_offer_waits_for_the_payer(technician):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    estimate = estimated(job, technician)
    job.refresh_from_db()
    assert job.state == "estimated"
    assert (estimate.offered_by, estimate.offered_at) == (technician, MORNING)


def test_a_line_without_a_price_keeps_the_estimate_from_being_offered(technician):
    estimate = drafted(a_job(), technician, running_belt="glazed")
    with pytest.raises(JobError, match=r"Give a price first.*Part to be found: running belt"):
        offer_estimate(estimate=estimate, by=technician, at=MORNING)
    estimate.refresh_from_db()
    assert estimate.offered_at is None


def test_an_estimate_without_lines_is_not_offered(technician):
    with pytest.raises(JobError, match="no lines"):
        offer_estimate(estimate=drafted(a_job(), technician), by=technician, at=MORNING)


def test_half_of_a_pair_is_not_offered(technician):
    job = a_job()
    a_belt(job)
    deck = PartFactory(component=ComponentFactory(slug="deck"))
    FitFactory(part=deck, model=job.unit.model)
    stocked(deck, cost="100")
    estimate = drafted(job, technician, deck="grooved")
    for line in estimate.lines.filter(component="running-belt"):
        drop_line(line=line)
    with pytest.raises(JobError, match="together or not at all: deck, running belt"):
        offer_estimate(estimate=estimate, by=technician, at=MORNING)


def test_the_second_offer_hears_of_the_first(technician, clerk):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    estimate = estimated(job, technician)
    with pytest.raises(JobError, match="offered by Kim Hale, 5 Oct 2026, 09:00"):
        offer_estimate(estimate=estimate, by=clerk, at=later(3))
    assert job.steps.count() == 1


def test_an_offered_estimate_is_not_changed_by_anybody(technician):
    job = a_job()
    in_work(job, technician)
    line = EstimateLine.objects.first()
    with pytest.raises(JobError, match="stays as it is"):
        drop_line(line=line)
    with pytest.raises(JobError):
        add_line(estimate=line.estimate, wanted=Wanted("fee", "x"), on=TODAY)


def inserted(line):
    line.pk, line.position = None, 99
    line.save(force_insert=True)


@pytest.mark.parametrize(
    "deed",
    [
        lambda line: EstimateLine.objects.filter(pk=line.pk).update(net=Decimal(1)),
        lambda line: EstimateLine.objects.filter(pk=line.pk).delete(),
        inserted,
    ],
    ids=["update", "delete", "insert"],
)
def test_the_database_itself_keeps_an_offered_estimate(technician, deed):
    in_work(a_job(), technician)
    line = EstimateLine.objects.first()
    with pytest.raises(IntegrityError, match="stays as it is"), transaction.atomic():
        deed(line)


@pytest.fixture
def offered(technician):
    job = a_job(spend_limit=Decimal(200))
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    return estimated(job, technician)


def test_a_yes_goes_as_far_as_the_estimate_before_tax(offered, clerk):
    approval = said(offered, clerk)
    offered.job.refresh_from_db()
    assert (approval.up_to, offered.job.state) == (Decimal(200), "approved")


def test_a_yes_may_go_further_than_the_estimate(offered, clerk):
    assert said(offered, clerk, up_to=Decimal(300)).up_to == Decimal(300)


def test_a_yes_to_less_than_the_estimate_is_refused(offered, clerk):
    with pytest.raises(JobError, match=r"\$200.00 before tax"):
        said(offered, clerk, up_to=Decimal(150))
    assert not Approval.objects.exists()


def test_a_no_leaves_the_job_waiting_to_be_closed(offered, clerk):
    approval = said(offered, clerk, yes=False)
    offered.job.refresh_from_db()
    assert (approval.up_to, offered.job.state) == (None, "estimated")


def test_the_limit_given_on_arrival_may_stand_for_the_yes(offered, clerk):
    approval = said(offered, clerk, channel="limit", up_to=Decimal(900))
    assert approval.up_to == Decimal(200)


@pytest.mark.parametrize(("limit", "words"), [("199.99", "more than"), (None, "No limit")])
def test_a_limit_that_does_not_reach_is_no_yes(offered, clerk, limit, words):
    job = offered.job
    job.spend_limit = limit and Decimal(limit)
    job.save()
    with pytest.raises(JobError, match=words):
        said(offered, clerk, channel="limit")


def test_a_limit_is_no_no(offered, clerk):
    with pytest.raises(JobError, match="only stand for a yes"):
        said(offered, clerk, yes=False, channel="limit")


def test_the_second_answer_hears_of_the_first(offered, clerk, technician):
    said(offered, clerk, at=later(2))
    with pytest.raises(JobError, match=r"Sam Lind already wrote down a yes of Dana Mabry.*09:02"):
        said(offered, technician, yes=False, at=later(3))
    assert Approval.objects.get().yes


def test_a_draft_cannot_be_answered(technician, clerk):
    estimate = drafted(a_job(), technician, running_belt="glazed")
    with pytest.raises(JobError, match="not offered yet"):
        said(estimate, clerk)


def second_version(job, by):
    estimate = make_estimate(job=job, by=by, at=later(30))
    add_line(
        estimate=estimate, wanted=Wanted("trip", "Second trip", unit_price=Decimal(40)), on=TODAY
    )
    return offer_estimate(estimate=estimate, by=by, at=later(31))


def test_a_later_version_starts_from_the_lines_of_the_last(offered, technician):
    second = make_estimate(job=offered.job, by=technician, at=later(1))
    assert second.version == 2
    assert lines_of(second) == lines_of(offered)


def test_a_later_version_adds_what_was_found_since(offered, technician):
    looked_at(offered.job, technician, later(10), fan="odd")
    second = make_estimate(job=offered.job, by=technician, at=later(11))
    assert second.lines.last().description == "Find the cause: fan"


def test_an_older_version_cannot_be_answered_any_more(offered, technician, clerk):
    second_version(offered.job, technician)
    with pytest.raises(JobError, match="Version 2 has taken the place"):
        said(offered, clerk)


def test_work_stops_while_a_later_version_waits(technician):
    job = a_job()
    in_work(job, technician)
    second_version(job, technician)
    job.refresh_from_db()
    assert job.state == "estimated"


def test_a_no_to_a_later_version_leaves_the_earlier_yes(technician, clerk):
    job = a_job()
    in_work(job, technician)
    said(second_version(job, technician), clerk, yes=False, at=later(32))
    job.refresh_from_db()
    assert job.state == "approved"
    assert job.steps.last().note == "no to version 2; the yes to version 1 stands"
    assert start_work(job=job, by=technician, at=later(33)).state == "in-work"


def own_draft(by):
    job = an_own_job()
    a_belt(job)
    return drafted(job, by, running_belt="glazed")


def test_the_owner_s_offer_for_our_own_stock_is_its_yes(owner):
    estimate = offer_estimate(estimate=own_draft(owner), by=owner, at=MORNING)
    estimate.job.refresh_from_db()
    assert estimate.job.state == "approved"
    assert (estimate.approval.given_by, estimate.approval.channel) == ("Ola Reed", "own")


def test_a_technician_s_offer_for_our_own_stock_waits_for_the_owner(technician, owner):
    estimate = offer_estimate(estimate=own_draft(technician), by=technician, at=MORNING)
    estimate.job.refresh_from_db()
    assert estimate.job.state == "estimated"
    with pytest.raises(JobError, match="owner"):
        said(estimate, technician, channel="own")
    assert said(estimate, owner, channel="own").yes


WANTED = [
    (Wanted("labour", "Level it", minutes=15), "20.00"),
    (Wanted("fee", "Disposal", unit_price=Decimal("12.50")), "12.50"),
    (Wanted("trip", "Trip", quantity=Decimal(2), unit_price=Decimal(30)), "60.00"),
    (Wanted("labour", "A favour", minutes=15, unit_price=Decimal(5)), "5.00"),
]


@pytest.mark.parametrize(("wanted", "net"), WANTED)
def test_a_line_by_hand_is_priced(technician, wanted, net):
    estimate = drafted(a_job(), technician)
    assert add_line(estimate=estimate, wanted=wanted, on=TODAY).net == Decimal(net)


def test_a_part_by_hand_brings_name_component_cost_and_price(technician):
    job = a_job()
    belt = a_belt(job)
    estimate = drafted(job, technician)
    line = add_line(estimate=estimate, wanted=Wanted("part", "", part=belt), on=TODAY)
    assert (line.description, line.component_id) == (str(belt), "running-belt")
    assert (line.unit_cost, line.unit_price) == (Decimal(80), Decimal(120))


@pytest.mark.parametrize(
    ("wanted", "words"),
    [(Wanted("part", "Mystery"), "Give a price"), (Wanted("part", ""), "what the line is for")],
)
def test_a_line_that_says_too_little_is_refused(technician, wanted, words):
    estimate = drafted(a_job(), technician)
    with pytest.raises(JobError, match=words):
        add_line(estimate=estimate, wanted=wanted, on=TODAY)
    assert not estimate.lines.exists()


def test_a_line_is_changed_in_its_place(technician):
    job = a_job()
    a_belt(job)
    line = drafted(job, technician, running_belt="glazed").lines.first()
    wanted = Wanted("part", "Belt, made to size", unit_price=Decimal(99), quantity=Decimal(2))
    changed = change_line(line=line, wanted=wanted, on=TODAY)
    assert (changed.pk, changed.position, changed.net) == (line.pk, 1, Decimal(198))
