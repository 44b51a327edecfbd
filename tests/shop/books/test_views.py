from datetime import timedelta
from io import BytesIO

import pytest
from django.urls import reverse
from django.utils import timezone
from openpyxl import load_workbook

from parts.days.models import Calendar
from shop.books.domain.months import Month
from shop.books.models import Account, JournalEntry
from shop.books.services import post_pending
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk(client):
    """The accountant, signed in."""
    client.force_login(PersonFactory(seats=["accountant"], first_name="Ines"))
    return client


def page(name, month):
    return reverse(name, args=[month])


def post(month):
    return post_pending(through=month.last, by=None, at=MORNING)


def test_the_months_with_papers_are_listed_with_their_workbook(desk, last_month):
    text = desk.get(reverse("period-list")).text
    assert page("period", last_month) in text
    assert page("period-workbook", last_month) in text


def test_this_month_says_that_it_is_still_going_on(desk, papers):
    papers.bill(timezone.localdate(), "fee", "10.00")
    assert "still going on" in desk.get(reverse("period-list")).text


def test_a_shop_without_papers_is_told_so(desk):
    assert "there is no book to make" in desk.get(reverse("period-list")).text


def test_the_workbook_is_downloaded_and_names_who_made_it(desk, last_month):
    answer = desk.post(page("period-workbook", last_month))
    assert answer["Content-Disposition"] == f'attachment; filename="books-{last_month}.xlsx"'
    book = load_workbook(BytesIO(answer.getvalue()))
    told = " ".join(str(row[0]) for row in book["Read me"].iter_rows(values_only=True))
    assert "Made by Ines" in told
    assert book["Journal"].max_row > 1


def test_making_the_workbook_posts_the_month_once(desk, last_month):
    desk.post(page("period-workbook", last_month)).getvalue()
    count = JournalEntry.objects.count()
    desk.post(page("period-workbook", last_month)).getvalue()
    assert count == JournalEntry.objects.count() > 0


def test_a_month_that_was_not_posted_says_how_many_papers_wait(desk, last_month):
    text = desk.get(page("period", last_month)).text
    assert "10 documents through the month" in text
    assert "Does it tie out?" not in text


def test_a_posted_month_shows_that_it_ties_out(desk, last_month):
    post(last_month)
    answer = desk.get(page("period", last_month))
    assert answer.context["figures"].hold
    assert "$1,621.36" in answer.text
    assert "no, by" not in answer.text


def test_the_month_shows_its_tax_by_jurisdiction(desk, last_month):
    text = desk.get(page("period", last_month)).text
    assert "State" in text
    assert "$103.81" in text


@pytest.mark.parametrize(("name", "value", "count"), [("document", "R", 3), ("account", "2200", 2)])
def test_the_journal_is_narrowed(desk, last_month, name, value, count):
    post(last_month)
    answer = desk.get(page("period", last_month), {name: value})
    assert len(answer.context["page_obj"].object_list) == count


def test_narrowing_by_account_keeps_the_sum_of_an_entry(desk, last_month):
    post(last_month)
    entries = desk.get(page("period", last_month), {"account": "2200"}).context["page_obj"]
    assert {str(entry.sum) for entry in entries} == {"332.86", "1288.50"}


def test_the_month_needs_no_more_queries_for_more_papers(
    desk, last_month, papers, django_assert_max_num_queries
):
    for _ in range(55):
        papers.bill(last_month.first, "fee", "10.00", customer=CustomerFactory())
    post(last_month)
    with django_assert_max_num_queries(12):
        desk.get(page("period", last_month))


def test_the_list_of_months_needs_few_queries(desk, last_month, django_assert_max_num_queries):
    with django_assert_max_num_queries(12):
        desk.get(reverse("period-list"))


@pytest.mark.parametrize("period", ["2026", "now", "2026-13"])
@pytest.mark.parametrize("name", ["period", "period-workbook"])
def test_what_is_no_month_is_not_found(desk, name, period):
    ask = desk.post if name == "period-workbook" else desk.get
    assert ask(page(name, period)).status_code == 404


def test_a_month_to_come_is_not_found(desk):
    ahead = Month.of(timezone.localdate() + timedelta(days=40))
    assert desk.post(page("period-workbook", ahead)).status_code == 404


def test_without_accounts_the_workbook_says_what_to_run(desk, last_month):
    Account.objects.all().delete()
    answer = desk.post(page("period-workbook", last_month), follow=True)
    assert "loadreference" in answer.text


def test_a_paper_of_a_closed_day_stops_the_workbook_with_a_sentence(desk, last_month):
    Calendar.objects.update(closed_through=last_month.last)
    answer = desk.post(page("period-workbook", last_month), follow=True)
    assert "The books are closed through" in answer.text
    assert not JournalEntry.objects.exists()


def test_an_entry_shows_its_lines_and_leads_to_its_paper(desk, last_month):
    post(last_month)
    entry = JournalEntry.objects.filter(rule="invoice").first()
    text = desk.get(reverse("journal-entry", args=[entry.pk])).text
    assert "2200 Sales tax payable" in text
    assert reverse("invoice", args=[entry.document]) in text
    assert "sealed" in text


def test_an_entry_needs_few_queries(desk, last_month, django_assert_max_num_queries):
    post(last_month)
    entry = JournalEntry.objects.first()
    with django_assert_max_num_queries(12):
        desk.get(reverse("journal-entry", args=[entry.pk]))


def test_a_technician_sees_no_books(client, last_month):
    client.force_login(PersonFactory(seats=["technician"]))
    assert client.get(page("period-workbook", last_month)).status_code == 403
    assert not JournalEntry.objects.exists()
