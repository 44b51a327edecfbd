from datetime import date

import pytest

from shop.books.domain.months import Month
from shop.books.models import JournalEntry
from shop.books.selectors.periods import entries_of, months_with_papers, paper_href
from shop.books.services import post_pending
from tests.factories.units import MORNING


def test_the_months_with_papers_stand_newest_first(papers):
    papers.bill(date(2026, 8, 31), "fee", "5.00")
    papers.receive(date(2026, 10, 1), 1, "5.000000")
    assert months_with_papers(date(2026, 10, 5)) == [Month(2026, 10), Month(2026, 8)]


def test_a_month_to_come_is_not_listed(papers):
    papers.bill(date(2026, 11, 1), "fee", "5.00")
    assert months_with_papers(date(2026, 10, 31)) == []


def test_the_entries_of_a_month_carry_their_sum(october):
    post_pending(through=october.last, by=None, at=MORNING)
    sums = {entry.rule: str(entry.sum) for entry in entries_of(october)}
    assert (sums["stock-received"], sums["machine-sold"]) == ("210.00", "416.00")


@pytest.mark.parametrize(
    ("document", "href"),
    [
        ("R00012", "/invoices/R00012/"),
        ("J00012/345", "/jobs/J00012/"),
        ("B00001/7", ""),
        ("P00003", ""),
        ("R", ""),
        ("count of the shelf/9", ""),
    ],
)
def test_a_document_leads_to_its_page(document, href):
    assert paper_href(JournalEntry(document=document)) == href
