import uuid
from decimal import Decimal

import pytest

from shop.lots.models import Lot, LotMachine, LotStep
from shop.lots.services import (
    Answer,
    Facts,
    LotError,
    Offered,
    add_line,
    agree_price,
    answer_matter,
    confirm_list,
    open_lot,
    pay_lot,
    seller_of,
    walk_away,
)
from tests.factories.shop import CustomerFactory
from tests.factories.units import TODAY, KindFactory
from tests.shop.lots.lots import MATTERS, a_listed_lot, a_lot, act, an_agreed_lot, later

pytestmark = pytest.mark.django_db


def test_the_same_key_twice_opens_one_lot():
    key, seller = uuid.uuid4(), CustomerFactory()
    said = {"seller": seller, "offered": Offered("A rower", TODAY), "key": key}
    assert open_lot(**said, **act()) == open_lot(**said, **act())
    assert (Lot.objects.count(), LotStep.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"title": " "}, "title"),
        ({"asked": Decimal("-1.00")}, "asked"),
        ({"remove_by": later(-1)}, "remove_by"),
    ],
)
def test_a_wrong_offer_is_refused_at_its_field_and_nothing_is_written(changes, field):
    with pytest.raises(LotError) as refused:
        a_lot(**changes)
    assert (refused.value.field, Lot.objects.count()) == (field, 0)


def test_a_seller_who_is_known_is_the_same_customer():
    known = CustomerFactory(name="Ada Marsh")
    assert seller_of(name=" ada  marsh ", phone="", on=TODAY) == known
    assert seller_of(name="Somebody New", phone="", on=TODAY) != known


def test_of_two_sellers_of_one_name_the_number_tells():
    CustomerFactory(name="Ada Marsh", phone="+12025550101")
    CustomerFactory(name="Ada Marsh", phone="+12025550102")
    with pytest.raises(LotError, match="Several customers"):
        seller_of(name="Ada Marsh", phone="", on=TODAY)
    assert seller_of(name="Ada Marsh", phone="202 555 0102", on=TODAY).phone == "+12025550102"


def test_a_confirmed_list_has_each_machine_with_its_serial():
    lot = a_listed_lot(Facts("rowers", kind=KindFactory(), count=3, serials=["ML100200"]))
    machines = LotMachine.objects.filter(line__lot=lot).values_list("place", "serial")
    assert list(machines) == [(1, "ML100200"), (2, ""), (3, "")]
    assert lot.state == Lot.State.LISTED


def test_a_list_without_lines_is_not_confirmed():
    with pytest.raises(LotError, match="no line"):
        confirm_list(lot=a_lot(), on=TODAY, **act())


def test_a_price_is_agreed_only_for_a_confirmed_list():
    with pytest.raises(LotError, match="Confirm the list"):
        agree_price(lot=a_lot(), price=Decimal(100), on=TODAY, **act())
    assert an_agreed_lot(price="4000.00").agreed == Decimal("4000.00")


def test_once_a_price_hangs_on_it_a_list_is_not_changed():
    lot = an_agreed_lot()
    with pytest.raises(LotError, match="can no longer be changed"):
        add_line(lot=lot, facts=Facts("bike", kind=KindFactory()), **act())


@pytest.mark.parametrize("missing", MATTERS)
def test_nobody_is_paid_before_the_four_questions_are_answered(missing):
    lot = an_agreed_lot(answered=[one for one in MATTERS if one != missing])
    with pytest.raises(LotError, match="Not before this is answered"):
        pay_lot(lot=lot, on=TODAY, **act())


def test_an_answer_against_the_sale_stops_the_payment_until_a_newer_one():
    lot = an_agreed_lot()
    answer_matter(lot=lot, answer=Answer("lien", "against", "the bank"), **act())
    with pytest.raises(LotError, match="lender"):
        pay_lot(lot=lot, on=TODAY, **act())
    answer_matter(lot=lot, answer=Answer("lien", "clear", "the bank, by letter"), **act())
    assert pay_lot(lot=lot, on=TODAY, **act()).state == Lot.State.PAID


def test_money_held_back_is_not_paid():
    lot = an_agreed_lot(price="4000.00", answered=MATTERS[:3])
    answer = Answer("landlord", "held", "the landlord", held=Decimal(500))
    answer_matter(lot=lot, answer=answer, **act())
    pay_lot(lot=lot, on=TODAY, **act())
    assert LotStep.objects.get(state="paid").amount == Decimal(3500)


@pytest.mark.parametrize(
    "answer",
    [Answer("lien", "held", "the bank"), Answer("lien", "clear", "  ")],
)
def test_an_answer_says_who_gave_it_and_how_much_is_held(answer):
    with pytest.raises(LotError):
        answer_matter(lot=a_lot(), answer=answer, **act())


def test_walking_away_takes_a_reason():
    lot = a_listed_lot()
    with pytest.raises(LotError, match="Say why"):
        walk_away(lot=lot, why=" ", on=TODAY, **act())
    assert walk_away(lot=lot, why="leased", on=TODAY, **act()).state == Lot.State.LEFT
