from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from parts.stock.services import scrap_piece
from shop.books.domain.months import Month
from shop.books.models import JournalEntry, JournalLine
from shop.books.selectors.figures import figures_of
from shop.books.selectors.words import TIES
from shop.books.services import post_pending, posting_rules
from shop.floor.models import MachineCost
from shop.floor.services import add_cost, strip_machine
from shop.till.models import Payment
from shop.till.services import apply_deposit, keep_deposit, return_deposit
from tests.factories.books import Papers
from tests.factories.resale import OwnStayFactory
from tests.factories.units import MORNING, PersonFactory
from tests.parts.stock.stripping import leave, take

LATER = MORNING + timedelta(days=20)


def post(month):
    return post_pending(through=month.last, by=None, at=MORNING)


def figures(month):
    return figures_of(month, posting_rules())


def broken(month):
    return [tie.key for tie in figures(month).ties if not tie.holds]


def test_a_posted_month_ties_out(october):
    post(october)
    assert figures(october).hold


def test_the_figures_of_a_month_are_those_of_its_papers(october):
    post(october)
    papers = {tie.key: str(tie.papers) for tie in figures(october).ties}
    assert papers == {
        "balance": "2855.36",
        "sales": "1621.36",
        "net": "1510.00",
        "tax": "111.36",
        "payments": "150.00",
        "parts-used": "63.00",
        "machine-costs": "416.00",
        "machines-sold": "416.00",
        "owed": "1471.36",
        "shelf": "147.00",
        "machines": "0.00",
        "pieces": "0",
        "machines-given": "0",
        "deposits": "0",
        "goods": "0",
        "sellers-paid": "0",
        "sellers": "350.00",
        "held-back": "0",
    }


def test_every_tie_has_its_words(october):
    assert {tie.key for tie in figures(october).ties} == set(TIES)


def test_what_is_not_posted_is_counted_and_does_not_tie_out(october):
    before = figures(october)
    assert (before.pending, before.hold) == (10, False)
    post(october)
    assert figures(october).pending == 0


def test_a_payment_written_into_the_month_after_posting_is_noticed(october):
    post(october)
    invoice = Payment.objects.first().invoice
    Payment.objects.create(
        number="P9",
        key="7d444840-9dc0-11d1-b245-5ffdce74fad2",
        invoice=invoice,
        method="cash",
        amount=Decimal("1.00"),
        paid_on=october.last,
        recorded_at=MORNING,
        recorded_by=PersonFactory(),
    )
    assert broken(october) == ["payments", "owed"]


def test_a_cost_without_its_stock_move_is_noticed_on_the_shelf(october, papers):
    papers.cost(october.last, OwnStayFactory(), "parts", "10.00")
    post(october)
    assert broken(october) == ["parts-used", "shelf"]


def test_an_entry_that_no_paper_stands_behind_is_noticed(october):
    post(october)
    entry = JournalEntry.objects.create(
        document="X1", rule="invoice", entry_on=october.last, text="", posted_at=MORNING
    )
    for account, amount in (("1200", "5.00"), ("4500", "-5.00")):
        JournalLine.objects.create(entry=entry, account_id=account, amount=Decimal(amount))
    JournalEntry.objects.filter(pk=entry.pk).update(sealed=True)
    assert broken(october) == ["sales", "net", "owed"]


def test_the_balance_of_an_account_counts_the_months_before(papers):
    papers.receive(date(2026, 9, 10), 10, "21.000000")
    papers.receive(date(2026, 10, 10), 1, "21.000000")
    month = Month(2026, 10)
    post(month)
    (shelf,) = [account for account in figures(month).accounts if account.number == "1300"]
    assert (shelf.debit, shelf.credit, shelf.balance) == (21, 0, 231)


def test_a_month_after_this_one_changes_nothing_in_it(october, papers):
    post(october)
    before = figures(october)
    papers.pay(date(2026, 11, 3), papers.bill(date(2026, 11, 2), "fee", "50.00"), "50.00")
    post(Month(2026, 11))
    assert figures(october) == before


def test_an_empty_month_ties_out_at_nothing(papers):
    empty = figures(Month(2026, 10))
    assert empty.hold
    assert {tie.papers for tie in empty.ties} == {Decimal(0)}


def test_the_figures_take_three_queries(october, django_assert_num_queries):
    post(october)
    with django_assert_num_queries(3):
        figures(october)


documents = st.lists(
    st.tuples(
        st.sampled_from(
            [
                "bill",
                "pay",
                "receive",
                "use",
                "own",
                "purchase",
                "held",
                "applied",
                "kept",
                "back",
                "donated",
                "scrapped",
            ]
        ),
        st.integers(1, 28),
        st.integers(1, 500_00),
    ),
    max_size=12,
)


class AnyMonth(TestCase):
    """Whatever is written down in whatever order, the month ties out once it is posted."""

    @given(documents)
    @settings(max_examples=12)
    def test_any_month_ties_out(self, documents):
        papers = Papers()
        part = papers.receive(date(2026, 9, 30), 500, "7.123457").part
        for sort, day, cents in documents:
            self._write(papers, part, sort, date(2026, 10, day), Decimal(cents) / 100)
        month = Month(2026, 10)
        post(month)
        assert figures(month).hold

    def _write(self, papers, part, sort, on, amount):
        if sort == "bill":
            papers.bill(on, "part", str(amount), "labour", "12.34")
        elif sort == "pay":
            papers.pay(on, papers.bill(on, "fee", str(amount)), str(amount), "card")
        elif sort == "receive":
            papers.receive(on, 3, str(amount), part)
        elif sort == "purchase":
            papers.cost(on, OwnStayFactory(came_on=on), "purchase", amount)
        elif sort in ("donated", "scrapped"):
            stay = OwnStayFactory(came_on=on)
            papers.cost(on, stay, "purchase", amount)
            papers.give_away(on, stay, sort, amount)
        elif sort in ("held", "applied", "kept", "back"):
            self._deposit(papers, sort, on, amount)
        else:
            papers.use(on, part, 3, purpose="own" if sort == "own" else "customer")
        assert MachineCost.objects.filter(amount=0).count() == 0

    def _deposit(self, papers, sort, on, amount):
        deposit = papers.deposit(on, amount, method="card")
        if sort == "applied":
            invoice = papers.bill(on, "machine", str(amount), customer=deposit.customer)
            papers.end_deposit(on, deposit, apply_deposit, invoice=invoice)
        elif sort == "kept":
            papers.end_deposit(on, deposit, keep_deposit, reason="as agreed")
        elif sort == "back":
            papers.end_deposit(on, deposit, return_deposit)


def test_what_a_donor_cost_goes_to_its_pieces_the_shelf_and_the_loss_and_ties_out(october):
    stay = OwnStayFactory()
    by, on = PersonFactory(), date(2026, 10, 20)
    add_cost(
        stay=stay,
        sort="purchase",
        amount=Decimal("90.00"),
        on=on,
        document="B00077",
        key="B00077",
        by=by,
        at=LATER,
    )
    donor = strip_machine(
        stay=stay,
        lines=[take(value="60"), leave(value="20"), leave("display", value="10")],
        on=on,
        document="B00077",
        key=uuid4(),
        by=by,
        at=LATER,
    )
    piece = donor.pieces.get(component="display")
    scrap_piece(piece=piece, note="cracked", on=on, by=by, at=LATER)
    post(october)
    assert broken(october) == []
    ties = {tie.key: tie for tie in figures(october).ties}
    assert ties["pieces"].papers == Decimal("20.00")


def test_deposits_that_are_held_tie_out_and_those_that_ended_are_gone(papers):
    month, first = Month(2026, 10), date(2026, 10, 3)
    papers.deposit(first, "100.00")
    taken_off = papers.deposit(first, "60.00", method="card")
    invoice = papers.bill(date(2026, 10, 9), "machine", "90.00", customer=taken_off.customer)
    papers.end_deposit(date(2026, 10, 9), taken_off, apply_deposit, invoice=invoice)
    papers.end_deposit(date(2026, 11, 2), papers.deposit(first, "30.00"), return_deposit)
    kept = papers.deposit(first, "20.00")
    papers.end_deposit(date(2026, 10, 20), kept, keep_deposit, reason="never collected")
    post(month)
    assert figures(month).hold
    ties = {tie.key: tie.papers for tie in figures(month).ties}
    assert (ties["deposits"], ties["owed"]) == (Decimal("130.00"), Decimal("30.00"))
    post(Month(2026, 11))
    november = {tie.key: tie.papers for tie in figures(Month(2026, 11)).ties}
    assert november["deposits"] == Decimal("100.00")
    assert figures(Month(2026, 11)).hold


def test_a_machine_given_away_leaves_the_stock_at_what_it_cost(papers):
    month, on = Month(2026, 10), date(2026, 10, 3)
    for how in ("donated", "scrapped"):
        stay = OwnStayFactory(came_on=on)
        papers.cost(on, stay, "purchase", "45.00")
        papers.give_away(on, stay, how, "45.00")
    post(month)
    assert figures(month).hold
    balances = {one.number: one.balance for one in figures(month).accounts}
    assert (balances["5400"], balances["5410"], balances["1400"]) == (45, 45, 0)
