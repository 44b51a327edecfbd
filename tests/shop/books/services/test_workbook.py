from datetime import date, datetime
from decimal import Decimal
from io import BytesIO

import pytest
from openpyxl import load_workbook

from shop.books.domain.months import Month
from shop.books.models import JournalEntry
from shop.books.services import make_book
from shop.till.models import Invoice
from tests.factories.parts import PartFactory
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING

SHEETS = [
    "Read me",
    "Sales",
    "Tax",
    "Payments",
    "Deposits",
    "Parts used",
    "Machines",
    "Goods",
    "Paid to sellers",
    "Accounts",
    "Journal",
]


def book_of(month, by=None):
    file = BytesIO()
    make_book(month=month, file=file, by=by, at=MORNING)
    return load_workbook(file)


def table(book, sheet):
    """The rows of a sheet as dicts by their heads."""
    heads, *rows = book[sheet].iter_rows(values_only=True)
    return [dict(zip(heads, row, strict=True)) for row in rows]


def total(rows, head):
    return sum((Decimal(str(row[head])) for row in rows if row[head] is not None), Decimal(0))


@pytest.fixture
def book(october):
    return book_of(october)


def test_the_sheets_stand_in_the_order_of_reading(book):
    assert book.sheetnames == SHEETS


def test_debits_of_the_journal_equal_its_credits(book):
    rows = table(book, "Journal")
    assert total(rows, "debit") == total(rows, "credit") == Decimal("2855.36")


def test_a_line_of_the_journal_is_a_debit_or_a_credit(book):
    assert all((row["debit"] is None) != (row["credit"] is None) for row in table(book, "Journal"))


def test_every_entry_of_the_journal_balances(book):
    entries = {}
    for row in table(book, "Journal"):
        change = Decimal(str(row["debit"] or 0)) - Decimal(str(row["credit"] or 0))
        entries[row["entry"]] = entries.get(row["entry"], Decimal(0)) + change
    assert set(entries.values()) == {Decimal(0)}
    assert len(entries) == JournalEntry.objects.count()


def test_the_sales_register_adds_up(book):
    rows = table(book, "Sales")
    nets = sum(total(rows, head) for head in ("parts", "labour", "machines", "trips", "fees"))
    assert nets == total(rows, "net") == Decimal("1510.00")
    assert total(rows, "net") + total(rows, "tax") == total(rows, "total") == Decimal("1621.36")


def test_the_sales_register_equals_the_journal(book):
    charged = [row for row in table(book, "Journal") if row["account"] == "1200"]
    assert total(charged, "debit") == total(table(book, "Sales"), "total")


def test_the_tax_sheet_equals_sales_tax_payable(book):
    payable = [row for row in table(book, "Journal") if row["account"] == "2200"]
    assert total(payable, "credit") == total(table(book, "Tax"), "tax") == Decimal("111.36")


def test_the_tax_sheet_stands_by_jurisdiction_and_rate(book):
    rows = [
        (row["jurisdiction"], row["per cent"], row["taxed amount"]) for row in table(book, "Tax")
    ]
    assert rows == [("State", 6.875, 1510), ("Town", 0.5, 1510)]


def test_the_payments_equal_the_journal(book):
    paid = [row for row in table(book, "Journal") if row["account"] == "1200"]
    assert total(paid, "credit") == total(table(book, "Payments"), "amount") == Decimal("150.00")


def test_parts_used_say_for_whom(book):
    rows = [(row["work is"], row["quantity"], row["cost"]) for row in table(book, "Parts used")]
    assert rows == [("for a customer", 2, 42), ("for our own stock", 1, 21)]


def test_a_part_that_no_maker_numbers_stands_without_one(papers):
    bearing = papers.receive(date(2026, 10, 1), 2, "4.50", PartFactory(maker=None)).part
    papers.use(date(2026, 10, 2), bearing)
    row = table(book_of(Month(2026, 10)), "Parts used")[0]
    assert (row["maker"], row["part number"]) == (None, bearing.number)


def test_machines_show_what_was_put_in_and_taken_out(book):
    rows = table(book, "Machines")
    assert [row["what"] for row in rows] == ["purchase", "parts", "labour", "sold"]
    assert total(rows, "cost put in") == total(rows, "cost taken out") == Decimal("416.00")
    assert rows[-1]["sold for, before tax"] == 1200


def test_the_accounts_balance(book):
    rows = table(book, "Accounts")
    assert total(rows, "balance") == 0
    assert total(rows, "debit") == total(rows, "credit") == Decimal("2855.36")


def test_days_are_days_and_amounts_are_numbers(book):
    row = table(book, "Sales")[0]
    assert row["date"] == datetime(2026, 10, 7)  # noqa: DTZ001 - as a workbook keeps a day
    assert isinstance(row["total"], int | float)


def test_a_name_that_would_run_as_a_formula_is_quoted(book):
    assert table(book, "Sales")[0]["customer"] == "'=Ada Marsh"
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert not [cell.value for cell in cells if cell.data_type == "f"]


def test_the_first_row_stays_in_sight_and_amounts_have_cents(book):
    for name in SHEETS[1:]:
        assert book[name].freeze_panes == "A2"
    assert book["Journal"]["G2"].number_format == "#,##0.00"
    assert book["Journal"]["A2"].number_format == "yyyy-mm-dd"


def read_me(book):
    return [row for row in book["Read me"].iter_rows(values_only=True) if row and row[0]]


def test_the_first_sheet_tells_the_period_the_shop_and_who_made_it(october, papers):
    text = " ".join(str(row[0]) for row in read_me(book_of(october, papers.person)))
    assert "Books of October 2026" in text
    assert "Quarry Street Fitness Repair" in text
    assert "From 1 Oct 2026 through 31 Oct 2026, in USD." in text
    assert f"Made by {papers.person.get_full_name()}" in text
    assert "accountant's call" in text


def test_every_check_of_the_first_sheet_holds(book):
    checks = [row for row in read_me(book) if row[4] in ("yes", "NO")]
    assert len(checks) == 18
    assert {(row[3], row[4]) for row in checks} == {(0, "yes")}


def test_the_book_is_the_same_when_it_is_made_again(october):
    first, second = book_of(october), book_of(october)
    for name in SHEETS:
        assert list(first[name].values) == list(second[name].values)


def test_a_month_without_papers_has_its_heads(papers):
    book = book_of(Month(2026, 9))
    assert book.sheetnames == SHEETS
    assert [table(book, name) for name in SHEETS[1:]] == [[]] * 10


def test_only_the_month_itself_stands_in_it(papers):
    for on in (date(2026, 9, 30), date(2026, 10, 1), date(2026, 10, 31), date(2026, 11, 1)):
        papers.bill(on, "fee", "10.00")
    book = book_of(Month(2026, 10))
    assert len(table(book, "Sales")) == 2
    assert total(table(book, "Journal"), "debit") == Decimal("20.00")


def test_a_name_with_signs_that_no_workbook_holds_is_written_without_them(papers):
    papers.bill(date(2026, 10, 2), "fee", "10.00", customer=CustomerFactory(name="A\x0bd\x1fa"))
    assert table(book_of(Month(2026, 10)), "Sales")[0]["customer"] == "Ada"


def test_an_exempt_customers_reason_stands_beside_the_sale(papers):
    customer = CustomerFactory(tax_exempt_reason="school, certificate 12")
    papers.bill(date(2026, 10, 2), "fee", "10.00", customer=customer)
    row = table(book_of(Month(2026, 10)), "Sales")[0]
    assert row["why exempt from tax"] == "school, certificate 12"


def test_the_registers_do_not_ask_for_each_row(papers, django_assert_max_num_queries):
    for _ in range(6):
        papers.pay(date(2026, 10, 2), papers.bill(date(2026, 10, 2), "fee", "10.00"), "10.00")
    book_of(Month(2026, 10))
    with django_assert_max_num_queries(41):
        book_of(Month(2026, 10))
    assert Invoice.objects.count() == 6
