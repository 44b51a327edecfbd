"""What was bought by the lump, and what its sellers were paid, in the books."""

import uuid
from datetime import date
from decimal import Decimal
from io import BytesIO

import pytest
from openpyxl import load_workbook

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.books.domain.months import Month
from shop.books.models import JournalEntry, JournalLine
from shop.books.selectors.figures import figures_of
from shop.books.services import post_pending, posting_rules
from shop.books.services.workbook import make_book
from shop.floor.services import Heap, Leaving, shelve_goods, take_goods
from shop.till.services import (
    Bought,
    Ending,
    Paying,
    end_holdback,
    hold_back,
    pay_seller,
    take_back_payment,
)
from tests.factories.shop import CustomerFactory, ShopProfileFactory
from tests.factories.units import MORNING

OCTOBER = Month(2026, 10)
FIRST = date(2026, 10, 1)


@pytest.fixture
def bought(papers):
    """A lot of 1,000: 850 paid and 150 held back, of which 100 is paid, 30 set off, 20 kept."""
    ShopProfileFactory()
    said = {"on": FIRST, "by": papers.person, "at": MORNING}
    lot = Bought(CustomerFactory(name="Millrace Athletic"), "B00001")
    check, keys = Paying("check", "17"), iter(uuid.UUID(int=number) for number in range(1, 9))
    pay_seller(bought=lot, amount=Decimal(850), paying=check, key=next(keys), **said)
    held = hold_back(bought=lot, amount=Decimal(150), reason="a lien", key=next(keys), **said)
    for how, amount in (("released", 100), ("taken-off", 30), ("kept", 20)):
        ending = Ending(how, Decimal(amount), "the bank's letter", Paying("cash"))
        end_holdback(holdback=held, ending=ending, key=next(keys), **said)
    take_back_payment(
        bought=lot, amount=Decimal(5), paying=Paying("transfer"), key=next(keys), **said
    )
    heap = Heap("weight plates", "lb", Decimal(900), Decimal("109.99"), Decimal("9.99"))
    seller = {"document": lot.document, "seller": lot.seller}
    goods = shelve_goods(heap=heap, key="plates", **seller, **said)
    for reason in ("sold", "lost"):
        leaving = Leaving(Decimal(300), reason, "R00001", "cracked")
        take_goods(goods=goods, leaving=leaving, key=next(keys), **said)
    return lot


def balances():
    found = {}
    for line in JournalLine.objects.all():
        found[line.account_id] = found.get(line.account_id, Decimal(0)) + line.amount
    return {number: str(amount) for number, amount in found.items() if amount}


def test_every_fact_is_posted_and_the_month_ties_out(bought):
    assert figures_of(OCTOBER, posting_rules()).pending == 10
    post_pending(through=OCTOBER.last, by=None, at=MORNING)
    figures = figures_of(OCTOBER, posting_rules())
    assert [tie.key for tie in figures.ties if not tie.holds] == []
    papers = {tie.key: str(tie.papers) for tie in figures.ties}
    assert [papers[key] for key in ("goods", "sellers-paid", "sellers", "held-back")] == [
        "36.66", "945.00", "-865.00", "0.00",
    ]  # fmt: skip


def test_the_accounts_after_it(bought):
    """Owed: goods 100 - paid 945 - held 150 + 130 that was paid out or set off."""
    post_pending(through=OCTOBER.last, by=None, at=MORNING)
    assert balances() == {
        "1000": "-100.00",
        "1020": "-845.00",
        "1420": "36.66",
        "2150": "865.00",
        "4610": "-20.00",
        "5210": "36.66",
        "5420": "36.67",
        "5910": "-9.99",
    }


def test_posting_again_posts_nothing(bought):
    first = post_pending(through=OCTOBER.last, by=None, at=MORNING)
    assert (first, post_pending(through=OCTOBER.last, by=None, at=MORNING)) == (10, 0)
    assert JournalEntry.objects.filter(sealed=True).count() == 10


def test_no_entry_goes_into_a_closed_day(bought):
    Calendar.objects.update(closed_through=OCTOBER.last)
    with pytest.raises(DayClosedError):
        post_pending(through=OCTOBER.last, by=None, at=MORNING)
    assert not JournalEntry.objects.exists()


def test_the_workbook_lists_sellers_and_goods(bought):
    file = BytesIO()
    make_book(month=OCTOBER, file=file, by=None, at=MORNING)
    book = load_workbook(file)
    sellers = list(book["Paid to sellers"].values)
    assert [row[1] for row in sellers[1:]] == [
        "paid", "paid", "paid back", "held back", "paid to the seller",
        "taken off what came short", "kept for good",
    ]  # fmt: skip
    assert sum(row[7] or 0 for row in sellers[1:]) == 945
    assert sum(row[8] or 0 for row in sellers[1:]) == 0
    goods = list(book["Goods"].values)[1:]
    assert [(row[1], row[5], row[7], row[9]) for row in goods] == [
        ("bought", 900, 109.99, None), ("sold", -300, None, 36.66),
        ("lost or scrapped", -300, None, 36.67),
    ]  # fmt: skip
