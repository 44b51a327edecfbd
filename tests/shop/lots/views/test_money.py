"""The pages on which a seller is paid, and the day by which a lot has to be out."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.lots.models import Lot, LotMachine
from shop.lots.selectors.money import open_balance
from shop.lots.services import Answer, Scan, answer_matter, pay_lot, scan_machine
from shop.till.models import Holdback, SellerPayment
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import TODAY, PersonFactory
from tests.shop.lots.lots import MATTERS, act, an_agreed_lot, later
from tests.shop.lots.valuing.building import lot as rows
from tests.shop.lots.valuing.building import treadmill, valued

pytestmark = pytest.mark.django_db


@pytest.fixture
def owner(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def held_lot():
    lot = an_agreed_lot(answered=MATTERS[:3])
    answer_matter(lot=lot, answer=Answer("landlord", "held", "Dana", Decimal(500)), **act())
    return lot


def paid_lot(off="0"):
    lot = pay_lot(lot=held_lot(), on=TODAY, **act())
    if Decimal(off):
        machine = LotMachine.objects.get(line__lot=lot)
        scan_machine(machine=machine, scan=Scan("missing", adjusted=Decimal(off)), **act())
    return lot


def said(**more):
    on = timezone.localdate().isoformat()
    return {"key": str(uuid.uuid4()), "method": "check", "reference": "17", "on": on} | more


def post(client, name, *args, **form):
    return client.post(reverse(name, args=args), form, follow=True)


def test_a_double_press_pays_once_and_says_so(owner):
    lot, form = held_lot(), said()
    assert "The seller is paid." in post(owner, "lot-pay", lot.pk, **form).text
    again = post(owner, "lot-pay", lot.pk, **form)
    assert "This form was sent before" in again.text
    assert SellerPayment.objects.get().reference == "17"


def test_somebody_else_s_payment_is_refused_on_the_lot_s_page(owner):
    lot = paid_lot()
    answer = post(owner, "lot-pay", lot.pk, **said())
    assert answer.status_code == 422
    assert SellerPayment.objects.count() == 1


def test_the_money_page_shows_what_is_paid_held_and_open(owner, django_assert_max_num_queries):
    lot = paid_lot("300")
    with django_assert_max_num_queries(12):
        page = owner.get(reverse("lot-money", args=[lot.pk])).text
    for words in ("B00001", "$3,500.00", "The seller owes us $300.00", "$500.00 held back"):
        assert words in page


def test_the_lot_s_page_says_that_something_is_open_within_its_queries(
    owner, django_assert_max_num_queries
):
    lot = paid_lot("300")
    with django_assert_max_num_queries(12):
        page = owner.get(lot.get_absolute_url()).text
    assert "still open between the seller and us" in page


def test_the_seller_pays_back_what_he_got_too_much(owner):
    lot = paid_lot("300")
    assert "is written down" in post(owner, "lot-settle", lot.pk, **said()).text
    assert open_balance(lot) == 0
    refused = post(owner, "lot-settle", lot.pk, **said())
    assert (refused.status_code, "Nothing is open" in refused.text) == (422, True)


def test_held_money_is_set_off_and_a_refusal_stands_at_its_field(owner):
    lot = paid_lot("300")
    held = Holdback.objects.get()

    def end(**form):
        form = said(how="taken-off", amount="300", reason="one treadmill was missing") | form
        form = {f"{held.pk}-{name}": value for name, value in form.items()}
        return post(owner, "lot-held", lot.pk, held.pk, **form)

    refused = end(amount="301")
    assert (refused.status_code, "At most that" in refused.text) == (422, True)
    assert "is written down" in end().text
    assert open_balance(lot) == 0
    assert "one treadmill was missing" in owner.get(reverse("lot-money", args=[lot.pk])).text


def test_held_money_of_another_lot_is_not_found(owner):
    paid, other = paid_lot(), an_agreed_lot(title="another")
    held = Holdback.objects.get()
    assert post(owner, "lot-held", other.pk, held.pk, **said()).status_code == 404
    assert paid.document == held.document


def test_the_accountant_looks_and_does_not_pay(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["accountant"]))
    lot = paid_lot("300")
    page = client.get(reverse("lot-money", args=[lot.pk]))
    assert (page.status_code, "came back" in page.text) == (200, False)
    assert post(client, "lot-settle", lot.pk, **said()).status_code == 403


def day(days):
    return timezone.localdate() + timedelta(days=days)


@pytest.fixture
def club():
    made = rows({"model": treadmill(), "count": 30})
    for place in range(1, 31):
        LotMachine.objects.create(line=made.lines.get(), place=place)
    valued(made)
    return made


@pytest.mark.parametrize(
    ("days", "words"),
    [(-1, "Late: everything was to be out"), (0, "one crew cannot meet it"), (90, "can be met")],
)
@pytest.mark.parametrize("page", ["lot", "lot-walk", "lot-load"])
def test_the_removal_day_is_told_on_every_page_of_the_way(owner, club, page, days, words):
    Lot.objects.update(remove_by=day(days), offered_on=day(-5))
    assert words in owner.get(reverse(page, args=[club.pk])).text


def test_a_lot_that_is_out_is_never_late(owner, club):
    Lot.objects.update(remove_by=day(-1), offered_on=day(-5), state="walked-away")
    assert "Late:" not in owner.get(club.get_absolute_url()).text


def test_the_seller_names_another_day(owner, club):
    Lot.objects.update(remove_by=later(2))
    form = {"remove_by": later(9).isoformat(), "note": "the landlord, by telephone"}
    page = post(owner, "lot-removal", club.pk, **form).text
    club.refresh_from_db()
    assert club.remove_by == later(9)
    assert "the landlord, by telephone" in page
    early = post(owner, "lot-removal", club.pk, remove_by="2020-01-01", note="the landlord")
    assert (early.status_code, "due to leave before" in early.text) == (422, True)
