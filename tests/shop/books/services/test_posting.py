from datetime import date
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from parts.stock.services import count_stock, return_stock
from shop.books.models import Account, JournalEntry, JournalLine
from shop.books.services import BooksError, post_pending
from shop.books.services.posting import BATCH
from tests.factories.parts import BinFactory
from tests.factories.resale import OwnStayFactory
from tests.factories.shop import CustomerFactory, TaxRateFactory
from tests.factories.units import MORNING, TODAY

END = date(2026, 10, 31)


def post(through=END):
    return post_pending(through=through, by=None, at=MORNING)


def lines(rule):
    entry = JournalEntry.objects.get(rule=rule)
    return {line.account_id: str(line.amount) for line in entry.lines.all()}


def test_an_invoice_is_posted_by_class_with_its_tax(papers):
    TaxRateFactory(line_class="part", percent="6")
    papers.bill(TODAY, "part", "100.00", "labour", "80.00", "trip", "20.00")
    assert post() == 1
    assert lines("invoice") == {
        "1200": "206.00",
        "4100": "-100.00",
        "4200": "-80.00",
        "4400": "-20.00",
        "2200": "-6.00",
    }


@pytest.mark.parametrize(
    ("method", "account"),
    [("cash", "1000"), ("card", "1010"), ("transfer", "1020"), ("check", "1030")],
)
def test_a_payment_goes_into_the_account_of_its_method(papers, method, account):
    papers.pay(TODAY, papers.bill(TODAY, "fee", "50.00"), "20.00", method)
    post()
    assert lines("payment") == {account: "20.00", "1200": "-20.00"}


def test_parts_received_wait_for_their_bill(papers):
    papers.receive(TODAY, 10, "21.000000")
    post()
    assert lines("stock-received") == {"1300": "210.00", "2100": "-210.00"}


def test_a_part_used_for_a_customer_is_cost_of_parts_sold(papers):
    papers.use(TODAY, papers.receive(TODAY, 10, "21.000000").part, 2)
    post()
    assert lines("stock-used") == {"1300": "-42.00", "5100": "42.00"}


def test_a_part_put_back_undoes_its_cost(papers):
    use = papers.use(TODAY, papers.receive(TODAY, 10, "21.000000").part, 2)
    return_stock(move=use.move, on=TODAY, by=papers.person, at=MORNING)
    post()
    assert lines("stock-returned") == {"1300": "42.00", "5100": "-42.00"}


def test_a_part_used_on_our_own_machine_is_posted_once_as_its_cost(papers):
    papers.use(TODAY, papers.receive(TODAY, 10, "21.000000").part, 1, purpose="own")
    assert post() == 2
    assert lines("machine-parts") == {"1400": "21.00", "1300": "-21.00"}
    assert not JournalEntry.objects.filter(rule="stock-used").exists()


def test_a_part_put_back_from_our_own_machine_is_left_to_its_cost(papers):
    use = papers.use(TODAY, papers.receive(TODAY, 10, "21.000000").part, 1, purpose="own")
    back = return_stock(move=use.move, on=TODAY, by=papers.person, at=MORNING)
    papers.cost(TODAY, use.job.stay, "parts", -back.cost)
    post()
    shelf = JournalLine.objects.filter(account="1300").values_list("amount", flat=True)
    assert sum(shelf) == Decimal("210.00")


def test_a_count_that_finds_less_is_a_loss(papers):
    part = papers.receive(TODAY, 10, "21.000000").part
    count_stock(
        part=part,
        bin=BinFactory(),
        counted=Decimal(9),
        on=TODAY,
        note="one is missing",
        by=papers.person,
        at=MORNING,
    )
    post()
    assert lines("stock-counted") == {"1300": "-21.00", "5300": "21.00"}


def test_a_machine_bought_is_owed_to_its_seller(papers):
    papers.cost(TODAY, OwnStayFactory(), "purchase", "350.00")
    post()
    assert lines("machine-purchase") == {"1400": "350.00", "2150": "-350.00"}


def test_own_labour_goes_into_the_machine(papers):
    papers.cost(TODAY, OwnStayFactory(), "labour", "45.00")
    post()
    assert lines("machine-labour") == {"1400": "45.00", "5900": "-45.00"}


def test_a_machine_sold_leaves_at_its_cost(papers):
    papers.sell(TODAY, OwnStayFactory(), "1200.00", "395.00")
    assert post() == 2
    assert lines("machine-sold") == {"5200": "395.00", "1400": "-395.00"}


def test_every_entry_is_sealed_and_balances(october):
    post()
    assert not JournalEntry.objects.filter(sealed=False).exists()
    assert sum(JournalLine.objects.values_list("amount", flat=True)) == 0


def test_a_second_run_finds_nothing_to_do(october):
    posted = post()
    assert (posted, post()) == (JournalEntry.objects.count(), 0)


def test_what_is_dated_later_waits(papers):
    papers.bill(date(2026, 11, 1), "fee", "50.00")
    assert post() == 0
    assert post(date(2026, 11, 1)) == 1


def test_a_document_written_late_into_an_earlier_day_is_found(papers):
    papers.bill(date(2026, 10, 20), "fee", "50.00")
    post()
    papers.bill(date(2026, 10, 2), "fee", "60.00")
    assert post() == 1


def test_an_entry_stands_on_the_day_of_its_document(papers):
    papers.bill(date(2026, 10, 2), "fee", "50.00")
    post()
    assert JournalEntry.objects.get().entry_on == date(2026, 10, 2)


def test_a_bill_of_nothing_moves_no_account(papers):
    papers.bill(TODAY, "fee", "0.00")
    assert post() == 0


def test_a_bill_whose_lines_cancel_out_is_posted_by_class(papers):
    papers.bill(TODAY, "part", "50.00", "fee", "-50.00")
    post()
    assert lines("invoice") == {"4100": "-50.00", "4500": "50.00"}


def test_a_bill_whose_lines_cancel_out_on_one_account_holds_nothing_up(papers):
    papers.bill(TODAY, "fee", "50.00", "fee", "-50.00")
    papers.bill(TODAY, "fee", "30.00")
    assert post() == 1
    assert post() == 0


def test_more_documents_than_a_batch_are_all_posted(papers, monkeypatch):
    monkeypatch.setattr("shop.books.services.posting.BATCH", 3)
    for _ in range(7):
        papers.bill(TODAY, "fee", "1.00")
    assert BATCH > 3
    assert post() == 7


def test_without_accounts_nothing_is_posted_and_the_command_is_named(papers):
    Account.objects.all().delete()
    papers.bill(TODAY, "fee", "50.00")
    with pytest.raises(BooksError, match="loadreference"):
        post()


def test_a_document_of_a_closed_day_is_refused(papers):
    papers.bill(TODAY, "fee", "50.00")
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError), transaction.atomic():
        post()
    assert not JournalEntry.objects.exists()


def test_it_says_who_posted(papers):
    papers.bill(TODAY, "fee", "50.00")
    post_pending(through=END, by=papers.person, at=MORNING)
    assert JournalEntry.objects.get().posted_by == papers.person


def test_a_long_name_does_not_stop_the_posting(papers):
    papers.bill(TODAY, "fee", "50.00", customer=CustomerFactory(name="M" * 120))
    assert post() == 1


@pytest.fixture
def entry(papers):
    papers.bill(TODAY, "fee", "50.00")
    post()
    return JournalEntry.objects.get()


def draft(**changes):
    said = {"document": "X1", "rule": "test", "entry_on": TODAY, "text": "", "posted_at": MORNING}
    return JournalEntry.objects.create(**said | changes)


def test_a_sealed_entry_takes_no_more_lines(entry):
    with pytest.raises(IntegrityError, match="sealed"), transaction.atomic():
        entry.lines.create(account_id="1000", amount=Decimal(1))


def test_a_line_of_a_sealed_entry_does_not_change(entry):
    with pytest.raises(IntegrityError, match="sealed"), transaction.atomic():
        entry.lines.update(amount=Decimal(1))


def test_a_line_does_not_move_into_a_sealed_entry(entry):
    line = draft().lines.create(account_id="1000", amount=Decimal(1))
    with pytest.raises(IntegrityError, match="sealed"), transaction.atomic():
        JournalLine.objects.filter(pk=line.pk).update(entry=entry)


def test_a_line_of_a_sealed_entry_is_not_deleted(entry):
    with pytest.raises(IntegrityError, match="sealed"), transaction.atomic():
        entry.lines.first().delete()


@pytest.mark.parametrize("change", [{"sealed": False}, {"text": "other"}, {"entry_on": END}])
def test_a_sealed_entry_does_not_change(entry, change):
    with pytest.raises(IntegrityError, match="sealed"), transaction.atomic():
        JournalEntry.objects.filter(pk=entry.pk).update(**change)


def test_a_sealed_entry_is_not_deleted(entry):
    with pytest.raises(IntegrityError, match="sealed"), transaction.atomic():
        JournalEntry.objects.filter(pk=entry.pk)._raw_delete("default")


def test_an_entry_is_not_born_sealed(papers):
    with pytest.raises(IntegrityError, match="first"), transaction.atomic():
        draft(sealed=True)


@pytest.mark.parametrize("amounts", [[], [("1000", "1")], [("1000", "1"), ("1200", "-2")]])
def test_an_entry_that_does_not_balance_is_not_sealed(papers, amounts):
    entry = draft()
    for account, amount in amounts:
        entry.lines.create(account_id=account, amount=Decimal(amount))
    with pytest.raises(IntegrityError, match="sum to nothing"), transaction.atomic():
        JournalEntry.objects.filter(pk=entry.pk).update(sealed=True)


def test_an_entry_of_a_closed_day_is_refused_by_the_database(papers):
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(IntegrityError, match="closed"), transaction.atomic():
        draft()
