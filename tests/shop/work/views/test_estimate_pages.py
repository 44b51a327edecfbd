import re
from decimal import Decimal

import pytest
from django.urls import reverse

from shop.work.models import Approval, Estimate, EstimateLine
from shop.work.services import make_estimate
from tests.factories.parts import PartFactory
from tests.factories.shop import TaxRateFactory
from tests.factories.units import MORNING, MakerFactory
from tests.shop.work.bench import a_belt, a_job, an_own_job, estimated, looked_at

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("rules")]


@pytest.fixture
def bench(client, technician):
    client.force_login(technician)
    return client


@pytest.fixture
def desk(client, clerk):
    client.force_login(clerk)
    return client


@pytest.fixture
def job(technician):
    job = a_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    return job


@pytest.fixture
def draft(job, technician):
    return make_estimate(job=job, by=technician, at=MORNING)


@pytest.fixture
def offered(job, technician):
    return estimated(job, technician)


def page_of(estimate, name="estimate"):
    return reverse(name, args=[estimate.job.number, estimate.version])


LINE = {"line_class": "fee", "description": "Disposal", "quantity": "1", "unit_price": "12.50"}
ANSWER = {"yes": "yes", "given_by": "Dana Mabry", "channel": "phone", "up_to": ""}


def test_making_an_estimate_leads_to_it(bench, job):
    answer = bench.post(reverse("estimate-make", args=[job.number]))
    assert answer.url == reverse("estimate", args=[job.number, 1])


def test_a_double_press_makes_one_draft(bench, job):
    for _press in range(2):
        bench.post(reverse("estimate-make", args=[job.number]))
    assert Estimate.objects.count() == 1


def test_an_estimate_of_a_job_that_is_over_is_refused_with_a_sentence(bench):
    job = a_job(state="cancelled")
    answer = bench.post(reverse("estimate-make", args=[job.number]), follow=True)
    assert "is cancelled" in answer.content.decode()


def test_the_page_shows_lines_reasons_and_sums_with_tax(bench, draft):
    TaxRateFactory(line_class="part", percent=Decimal(5))
    text = bench.get(page_of(draft)).content.decode()
    for said in ("Replace: running belt", "belt is worn", "$200.00", "State, 5 %", "$206.00"):
        assert said in text


def test_a_customer_who_is_exempt_sees_no_tax(bench, draft):
    TaxRateFactory(line_class="part", percent=Decimal(5))
    owner = draft.job.owner
    owner.tax_exempt_reason = "resale certificate"
    owner.save()
    assert "$206.00" not in bench.get(page_of(draft)).content.decode()


def test_the_page_takes_few_queries_however_many_lines(bench, draft, django_assert_max_num_queries):
    line = draft.lines.first()
    for position in range(10, 40):
        line.pk, line.position, line.part = None, position, PartFactory()
        line.save(force_insert=True)
    with django_assert_max_num_queries(12):
        assert bench.get(page_of(draft)).status_code == 200


def test_an_unknown_version_is_not_found(bench, draft):
    assert bench.get(reverse("estimate", args=[draft.job.number, 9])).status_code == 404


def test_an_unpriced_line_is_marked(bench, technician):
    job = a_job()
    looked_at(job, technician, running_belt="glazed")
    draft = make_estimate(job=job, by=technician, at=MORNING)
    assert "give a price" in bench.get(page_of(draft)).content.decode()


def test_a_line_is_added(bench, draft):
    answer = bench.post(page_of(draft, "estimate-line-add"), LINE)
    assert answer.url == page_of(draft)
    assert draft.lines.last().net == Decimal("12.50")


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"quantity": "0"}, "A line needs a quantity"),
        ({"quantity": "many"}, "Enter a number"),
        ({"unit_price": "-5"}, "greater than or equal to 0"),
        ({"description": ""}, "Say what the line is for"),
        ({"part": "ZZ-9"}, "No part has the number ZZ-9"),
        ({"line_class": "machine"}, "not one of the available choices"),
        ({"unit_price": ""}, "Nothing is known to price this line by"),
    ],
)
def test_a_wrong_line_is_told_at_once_and_not_kept(bench, draft, change, sentence):
    answer = bench.post(page_of(draft, "estimate-line-add"), LINE | change)
    assert answer.status_code == 422
    assert sentence in answer.content.decode()
    assert draft.lines.count() == 2


def test_a_number_that_two_makers_use_is_asked_about(bench, draft):
    PartFactory(number="B-1", key="B1")
    PartFactory(number="B-1", key="B1", maker=MakerFactory(name="Holmgate"))
    answer = bench.post(page_of(draft, "estimate-line-add"), LINE | {"part": "b 1"})
    assert "Several makers" in answer.content.decode()


def line_page(line, name="estimate-line-edit"):
    return reverse(name, args=[line.estimate.job.number, line.pk])


def test_the_form_of_a_line_shows_what_it_is(bench, draft):
    text = bench.get(line_page(draft.lines.first())).content.decode()
    assert draft.lines.first().part.number in text
    assert 'value="120.00"' in text


def test_a_line_is_changed(bench, draft):
    line = draft.lines.first()
    bench.post(line_page(line), LINE | {"unit_price": "99"})
    line.refresh_from_db()
    assert (line.description, line.net) == ("Disposal", Decimal(99))


def test_a_line_dropped_twice_is_dropped_once_and_said(bench, draft):
    line = draft.lines.first()
    for _press in range(2):
        answer = bench.post(line_page(line, "estimate-line-drop"), follow=True)
    assert "dropped already" in answer.content.decode()
    assert draft.lines.count() == 1


def test_a_line_of_an_offered_estimate_stays(bench, offered):
    line = offered.lines.first()
    answer = bench.post(line_page(line), LINE)
    assert "stays as it is" in answer.content.decode()
    answer = bench.post(line_page(line, "estimate-line-drop"), follow=True)
    assert "stays as it is" in answer.content.decode()
    assert EstimateLine.objects.get(pk=line.pk).net == Decimal(120)


def test_an_estimate_is_offered_once(bench, draft):
    bench.post(page_of(draft, "estimate-offer"))
    answer = bench.post(page_of(draft, "estimate-offer"), follow=True)
    assert "offered by Kim Hale" in answer.content.decode()
    assert draft.job.steps.count() == 1


def test_the_answer_is_written_down(desk, offered):
    answer = desk.post(page_of(offered, "estimate-answer"), ANSWER)
    assert answer.url == reverse("job", args=[offered.job.number])
    approval = Approval.objects.get()
    assert (approval.yes, approval.given_by, approval.up_to) == (True, "Dana Mabry", Decimal(200))


def test_a_no_is_written_down(desk, offered):
    desk.post(page_of(offered, "estimate-answer"), ANSWER | {"yes": "no"})
    assert not Approval.objects.get().yes


def test_the_second_tab_hears_of_the_answer(desk, offered):
    desk.post(page_of(offered, "estimate-answer"), ANSWER)
    answer = desk.post(page_of(offered, "estimate-answer"), ANSWER | {"yes": "no"})
    assert answer.status_code == 422
    assert "Sam Lind already wrote down a yes" in answer.content.decode()
    assert Approval.objects.get().yes


def channels(text):
    return re.findall(r'name="channel" value="([a-z]+)"', text)


@pytest.mark.parametrize(("limit", "there"), [("250", True), ("199", False), (None, False)])
def test_the_limit_of_arrival_is_offered_only_where_it_reaches(desk, offered, limit, there):
    job = offered.job
    job.spend_limit = limit and Decimal(limit)
    job.save()
    text = desk.get(page_of(offered, "estimate-answer")).content.decode()
    assert ("limit" in channels(text)) is there
    assert "own" not in channels(text)


def test_a_channel_that_was_not_offered_is_refused(desk, offered):
    answer = desk.post(page_of(offered, "estimate-answer"), ANSWER | {"channel": "limit"})
    assert answer.status_code == 422
    assert not Approval.objects.exists()


def test_the_owner_answers_for_our_own_stock_with_one_word(client, technician, owner):
    job = an_own_job()
    a_belt(job)
    looked_at(job, technician, running_belt="glazed")
    offered = estimated(job, technician)
    client.force_login(owner)
    client.post(page_of(offered, "estimate-answer"), {"yes": "yes"})
    assert Approval.objects.get().given_by == "Ola Reed"


@pytest.mark.parametrize("name", ["estimate-answer"])
def test_the_technician_does_not_answer_for_the_customer(bench, offered, name):
    assert bench.post(page_of(offered, name), ANSWER).status_code == 403
    assert not Approval.objects.exists()
