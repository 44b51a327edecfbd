import pytest
from django.urls import reverse

from tests.factories.shop import CustomerFactory
from tests.shop.front.ground import customers_job, fill, invoice, machine

pytestmark = pytest.mark.django_db


@pytest.fixture
def job():
    owner = CustomerFactory(name="Ann Bell", phone="+12025550114")
    return customers_job(serial="CV000123", owner=owner, number="J00042")


def find(client, text):
    return client.get(reverse("search"), {"q": text})


@pytest.mark.parametrize("text", ["J00042", "j00042", " J-00042 "])
def test_a_jobs_number_opens_the_job(sit, job, text):
    assert find(sit("technician"), text).url == reverse("job", args=["J00042"])


@pytest.mark.parametrize("text", ["CV000123", "cv 000 123"])
def test_a_whole_serial_opens_the_machine(sit, job, text):
    assert find(sit("technician"), text).url == reverse("machine", args=[job.unit_id])


def test_a_whole_model_number_opens_the_model(sit, job):
    assert find(sit("technician"), "tr90").url == reverse("model", args=[job.unit.model_id])


@pytest.mark.parametrize("text", ["Ann Bell", "202 555 0114", "5550114"])
def test_a_name_or_a_whole_telephone_number_opens_the_customer(sit, job, text):
    assert find(sit("front desk"), text).url == reverse("customer", args=[job.owner_id])


def test_an_invoices_number_opens_the_invoice(sit):
    bill = invoice()
    assert find(sit("accountant"), bill.number.lower()).url == reverse(
        "invoice", args=[bill.number]
    )


def test_three_digits_of_a_telephone_number_find_the_customer_and_his_jobs(sit, job):
    found = find(sit("front desk"), "555").context["found"]
    assert [customer.name for customer in found.customers] == ["Ann Bell"]
    assert [one.number for one in found.jobs] == ["J00042"]


def test_a_part_of_a_name_finds_the_jobs_for_the_bench_too(sit, job):
    found = find(sit("technician"), "ann").context["found"]
    assert [one.number for one in found.jobs] == ["J00042"]
    assert found.customers == []


def test_two_that_fit_exactly_are_both_shown(sit):
    machine("TWIN1", number="A-1")
    machine("SOLO1", number="TWIN-1")
    response = find(sit("technician"), "twin1")
    assert response.status_code == 200
    assert len(response.context["found"].exact) == 2


@pytest.mark.parametrize("text", ["", " ", "a", "--", "%", "no such thing"])
def test_what_finds_nothing_says_what_may_be_written(sit, job, text):
    response = find(sit("front desk"), text)
    assert response.status_code == 200
    assert "Nothing is like that." in response.content.decode()


def test_what_was_typed_is_shown_as_text(sit):
    page = find(sit("front desk"), "<b>bold</b>").content.decode()
    assert "<b>bold</b>" not in page
    assert "&lt;b&gt;bold&lt;/b&gt;" in page


def test_search_needs_no_more_queries_for_more_hits(sit, django_assert_max_num_queries):
    fill(2)
    client = sit("owner")
    with django_assert_max_num_queries(12) as few:
        find(client, "fill")
    fill(4)
    with django_assert_max_num_queries(len(few)):
        find(client, "fill")
