"""A machine leaves by every exit, or is held back, through the services."""

import uuid
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.resale.models import Disclosure, Disposal, Reservation, Sale, Waiver
from shop.resale.selectors import exits, one_for_sale, readiness_of
from shop.resale.services import (
    Agreed,
    Paid,
    ResaleError,
    attach_paper,
    dispose_machine,
    record_grading,
    release_reservation,
    reserve_machine,
    sell_machine,
    set_holding,
    strip_own,
    waive,
)
from shop.till.models import Deposit, Invoice
from shop.till.selectors import balance
from tests.factories.resale import (
    MachineCostFactory,
    OwnStayFactory,
    attach,
    finished_inspection,
    ready_stay,
)
from tests.factories.shop import CustomerFactory, WorkOrderFactory
from tests.factories.units import MORNING, TODAY, PersonFactory, RecallCheckFactory
from tests.parts.stock.stripping import take
from tests.shop.resale.selectors.test_readiness import add_finding

pytestmark = pytest.mark.django_db


def by():
    return {"by": PersonFactory(), "at": MORNING}


def sell(stay, way="retail", outlet="5-15", price=None, reason="", told=False, **changes):
    said = {"customer": CustomerFactory(), "on": TODAY, "key": uuid.uuid4()} | changes
    agreed = Agreed(price and Decimal(price), reason, outlet, told)
    return sell_machine(stay=stay, way=exits()[way], agreed=agreed, **said, **by())


def let_pass(stay, way, condition, reason="the sticker is gone"):
    said = {"condition": condition, "reason": reason, "on": TODAY}
    return waive(stay=stay, way=exits()[way], **said, **by())


def reserve(stay, amount="80.00", **changes):
    said = {"customer": CustomerFactory(), "method": "cash", "on": TODAY, "key": uuid.uuid4()}
    said |= {"until_on": TODAY + timedelta(days=7), "amount": Decimal(amount)} | changes
    return reserve_machine(stay=stay, **said, **by())


def dispose(stay, way, **changes):
    said = {"taker": "a school", "reason": "no room", "on": TODAY, "key": uuid.uuid4()} | changes
    return dispose_machine(stay=stay, way=exits()[way], **said, **by())


def unmet(stay, way="retail", on=TODAY):
    return [one.key for one in readiness_of([stay], on, exits()[way])[stay.pk]]


@pytest.mark.parametrize("way", ["retail", "as-is", "for-parts", "wholesale"])
def test_a_sale_by_an_exit_says_so_on_the_stay_with_what_it_fetched_and_its_paper(way):
    stay = ready_stay()
    paper = attach(stay, way)
    sale = sell(stay, way, price="950.00")
    stay.refresh_from_db()
    assert (stay.left, stay.fetched) == (exits()[way].left, Decimal("950.00"))
    assert (sale.disclosure, sale.invoice.net) == (paper, Decimal("950.00"))


def test_a_price_below_the_least_needs_its_reason_whatever_the_exit():
    stay = ready_stay()
    with pytest.raises(ResaleError, match="below the least price") as refusal:
        sell(stay, price="899.99")
    assert refusal.value.field == "price_reason"
    assert sell(stay, price="899.99", reason="the last of its kind").price_reason


def test_without_an_asking_price_the_agreed_one_is_asked_for():
    stay = OwnStayFactory()
    RecallCheckFactory(unit=stay.unit, checked_on=TODAY)
    let_pass(stay, "for-parts", "plate")
    attach(stay, "for-parts")
    with pytest.raises(ResaleError, match="Enter what was agreed"):
        sell(stay, "for-parts")
    assert sell(stay, "for-parts", price="40").invoice.net == 40


@pytest.mark.parametrize(
    ("said", "sentence"),
    [({"outlet": ""}, "Ask which outlet"), ({"outlet": "6-20"}, "licensed electrician")],
)
def test_supply_and_plug_fit_the_buyers_outlet(said, sentence):
    with pytest.raises(ResaleError, match=sentence) as refusal:
        sell(ready_stay(), **said)
    assert refusal.value.field == "outlet"


def test_a_buyer_who_was_told_takes_it_with_another_outlet():
    assert sell(ready_stay(), outlet="6-20", told=True).outlet == "6-20"


def test_an_unsafe_machine_goes_to_no_user_but_to_the_trade():
    stay = ready_stay()
    add_finding(stay.unit.inspections.get(protocol__occasion="arrival"), holds=True)
    for way in ("retail", "as-is", "donated", "wholesale"):
        attach(stay, way)
    assert unmet(stay, "as-is") == unmet(stay, "donated") == ["safety"]
    assert unmet(stay, "wholesale") == []
    with pytest.raises(ResaleError, match="Not safe to use: deck"):
        sell(stay, "as-is")


def test_the_paper_of_an_exit_tells_faults_terms_and_parts_as_known_then():
    stay = ready_stay()
    add_finding(stay.unit.inspections.get(protocol__occasion="arrival"))
    paper = attach(stay, "as-is")
    assert paper.faults == [["deck", "grooved"]]
    assert paper.terms == list(exits()["as-is"].terms)
    assert paper.support_words == "Its maker's word on parts: supported, 5 Oct 2026."
    assert unmet(stay, "as-is") == []


def test_a_paper_is_attached_once_for_a_press_and_never_changed():
    stay, key = ready_stay(), uuid.uuid4()
    said = {"stay": stay, "way": exits()["as-is"], "key": key, "on": TODAY}
    assert attach_paper(**said, **by()) == attach_paper(**said, **by())
    with pytest.raises(IntegrityError), transaction.atomic():
        Disclosure.objects.filter(key=key).update(note="x")


def test_no_paper_goes_along_with_scrap():
    with pytest.raises(ResaleError, match="No paper goes along"):
        attach(ready_stay(), "scrapped")


def test_the_owner_lets_a_condition_pass_for_one_exit():
    stay = OwnStayFactory()
    let_pass(stay, "wholesale", "plate")
    assert "plate" not in unmet(stay, "wholesale")
    assert "plate" in unmet(stay, "for-parts")


@pytest.mark.parametrize(
    ("way", "condition", "reason", "sentence"),
    [
        ("retail", "plate", "x", "Nobody can let this pass"),
        ("wholesale", "recall-unread", "x", "Nobody can let this pass"),
        ("wholesale", "plate", "  ", "why you let this pass"),
        ("wholesale", "photo", "x", "is met, or was let pass"),
    ],
)
def test_what_may_not_be_let_pass_is_refused(way, condition, reason, sentence):
    with pytest.raises(ResaleError, match=sentence):
        let_pass(OwnStayFactory(), way, condition, reason)
    assert not Waiver.objects.exists()


@pytest.mark.parametrize("way", ["donated", "scrapped"])
def test_a_machine_given_away_or_scrapped_leaves_at_its_cost(way):
    stay = ready_stay()
    attach(stay, "donated")
    MachineCostFactory(stay=stay, sort="parts", amount=Decimal("42.10"))
    gone = dispose(stay, way)
    stay.refresh_from_db()
    assert (gone.number, gone.cost) == ("G00001", Decimal("392.10"))
    assert (stay.left, stay.left_document, stay.fetched) == (way, "G00001", None)


def test_the_same_key_lets_a_machine_go_once():
    stay, key = ready_stay(), uuid.uuid4()
    assert dispose(stay, "scrapped", key=key) == dispose(stay, "scrapped", key=key)
    with pytest.raises(ResaleError, match="left us already: scrapped, 5 Oct 2026, under G00001"):
        dispose(stay, "scrapped")
    assert Disposal.objects.count() == 1


@pytest.mark.parametrize("missing", ["taker", "reason"])
def test_who_took_it_and_why_is_written_down(missing):
    with pytest.raises(ResaleError, match="who took it") as refusal:
        dispose(ready_stay(), "scrapped", **{missing: " "})
    assert refusal.value.field == missing


def test_a_recalled_machine_is_scrapped_but_not_given_away():
    stay = ready_stay()
    RecallCheckFactory(unit=stay.unit, outcome="fits", checked_on=TODAY)
    attach(stay, "donated")
    with pytest.raises(ResaleError, match="nothing overrides"):
        dispose(stay, "donated")
    assert dispose(stay, "scrapped").stay == stay


def test_a_machine_with_an_open_job_is_not_scrapped_nor_taken_apart():
    stay = ready_stay()
    WorkOrderFactory(stay=stay, purpose="own", owner=None, state="in-work", number="J00009")
    with pytest.raises(ResaleError, match="J00009"):
        dispose(stay, "scrapped")
    with pytest.raises(ResaleError, match="J00009"):
        strip(stay)


def strip(stay):
    said = {"document": "B00001", "key": uuid.uuid4()}
    return strip_own(stay=stay, lines=[take()], on=TODAY, **said, **by())


def test_a_machine_is_taken_apart_for_our_own_shelf():
    stay = ready_stay()
    assert strip(stay).cost == Decimal("350.00")
    stay.refresh_from_db()
    assert stay.left == "stripped"


def test_a_recalled_machine_is_not_taken_apart_on_anybodys_word():
    stay = ready_stay()
    RecallCheckFactory(unit=stay.unit, outcome="fits", checked_on=TODAY)
    with pytest.raises(ResaleError, match="recall"):
        strip(stay)
    with pytest.raises(ResaleError, match="Nobody can let this pass"):
        let_pass(stay, "stripped", "recall-fits", "the board it names is scrapped")


def test_nothing_leaves_on_a_closed_day():
    stay = ready_stay()
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        dispose(stay, "scrapped")


def test_a_bought_machine_is_held_as_long_as_the_rule_says():
    stay = ready_stay()
    set_holding(days=15, from_on=date(2026, 1, 1), **by())
    (one,) = readiness_of([stay], TODAY)[stay.pk]
    assert one.sentence == (
        "It is held through 19 Oct 2026: local law makes a dealer wait after a purchase."
    )
    assert unmet(stay, "scrapped") == ["holding"]
    assert "holding" not in unmet(stay, on=TODAY + timedelta(days=15))


def test_a_holding_period_counts_from_its_day_and_a_later_one_replaces_it():
    stay = ready_stay()
    set_holding(days=15, from_on=TODAY, **by())
    set_holding(days=0, from_on=TODAY, **by())
    assert unmet(stay) == []


def test_a_reserved_machine_is_sold_to_nobody_else():
    stay = ready_stay()
    held = reserve(stay)
    with pytest.raises(ResaleError, match=f"reserved for {held.customer}"):
        sell(stay)
    with pytest.raises(ResaleError, match="reserved for"):
        dispose(stay, "scrapped")
    with pytest.raises(ResaleError, match="reserved for"):
        strip(stay)
    assert not Sale.objects.exists()


def test_whoever_left_the_deposit_buys_it_less_the_deposit():
    stay = ready_stay()
    held = reserve(stay)
    sale = sell(stay, customer=held.customer, paid=Paid("card"))
    assert [(one.method, one.amount) for one in sale.invoice.payments.order_by("pk")] == [
        ("deposit", Decimal("80.00")),
        ("card", Decimal("1120.00")),
    ]
    assert balance(sale.invoice) == 0
    assert Deposit.objects.get().end.how == "applied"
    assert not Reservation.objects.filter(over_at=None).exists()


def test_a_deposit_above_the_invoice_is_given_back_first():
    stay = ready_stay()
    held = reserve(stay, "1000")
    with pytest.raises(ResaleError, match="Give it back first"), transaction.atomic():
        sell(stay, customer=held.customer, price="900")
    assert not Invoice.objects.exists()


def test_a_second_reservation_is_told_of_the_first():
    stay = ready_stay()
    held = reserve(stay)
    with pytest.raises(ResaleError, match=f"reserved for {held.customer} until 12 Oct 2026"):
        reserve(stay)
    assert Deposit.objects.count() == 1


def test_the_same_key_reserves_once():
    stay, key = ready_stay(), uuid.uuid4()
    assert reserve(stay, key=key) == reserve(stay, key=key)


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"until_on": TODAY - timedelta(days=1)}, "until_on"), ({"amount": "1200.01"}, "amount")],
)
def test_a_wrong_reservation_is_refused_at_its_field(changes, field):
    with pytest.raises(ResaleError) as refusal:
        reserve(ready_stay(), **changes)
    assert refusal.value.field == field


def test_what_a_recall_may_mean_is_not_reserved():
    stay = ready_stay()
    RecallCheckFactory(unit=stay.unit, outcome="unsure", checked_on=TODAY)
    with pytest.raises(ResaleError, match="recall"):
        reserve(stay)
    assert not Deposit.objects.exists()


@pytest.mark.parametrize(("keep", "how"), [(False, "returned"), (True, "kept")])
def test_a_reservation_is_let_go_and_its_deposit_goes_back_or_is_kept(keep, how):
    stay = ready_stay()
    held = reserve(stay)
    end = release_reservation(reservation=held, keep=keep, reason="as agreed", on=TODAY, **by())
    assert end.how == how
    assert unmet(stay) == []
    with pytest.raises(ResaleError, match="over already, ended by"):
        release_reservation(reservation=held, keep=keep, reason="x", on=TODAY, **by())


def test_a_reservation_past_its_day_still_holds_and_says_so():
    stay = ready_stay()
    reserve(stay)
    one = one_for_sale(stay.pk, TODAY + timedelta(days=8))
    assert one.reservation_late
    assert "reserved" in [gap.key for gap in one.unmet]


def test_the_database_holds_one_reservation_a_machine():
    held = reserve(ready_stay())
    other = reserve(ready_stay())
    with pytest.raises(IntegrityError), transaction.atomic():
        Reservation.objects.filter(pk=other.pk).update(stay=held.stay)


def test_the_year_it_was_made_is_kept_with_the_grading():
    stay = ready_stay()
    said = {"grade": "A", "cleaned": True, "safety_key_present": True}
    record_grading(stay=stay, made_in=2019, **said, **by())
    stay.refresh_from_db()
    assert stay.made_in == 2019


def test_readiness_of_all_exits_together_is_that_of_each_alone():
    stays = [ready_stay(), OwnStayFactory(), ready_stay(TODAY - timedelta(days=200))]
    attach(stays[0], "as-is")
    let_pass(stays[1], "wholesale", "plate")
    finished_inspection(stays[1].unit, "arrival")
    for way in exits().values():
        together = readiness_of(stays, TODAY, way)
        assert together == {one.pk: readiness_of([one], TODAY, way)[one.pk] for one in stays}
