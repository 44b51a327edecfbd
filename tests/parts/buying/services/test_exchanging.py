import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.answers.models import Answer
from parts.answers.services import withdraw_answer
from parts.buying.models import Exchange, ExchangeOffer, ExchangeStep, Supplier
from parts.buying.services import BuyingError
from parts.fits.services import RefusedError
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.parts.buying.purchase import an_exchange, an_offer, step

pytestmark = pytest.mark.django_db
EARLIER, LATER = TODAY - timedelta(days=1), TODAY + timedelta(days=1)


def test_an_offer_is_an_answer_with_a_charge_for_the_old_one():
    offer = an_offer(core_charge="40", core_days=21)
    answer = offer.answer
    assert (answer.route, answer.party, answer.status) == (
        "rebuild",
        "Pellworth boards",
        "supported",
    )
    assert (answer.cost, answer.lead_days) == (Decimal(120), 6)
    assert (offer.supplier.name, offer.core_charge, offer.core_days) == (
        "Pellworth boards", Decimal(40), 21,
    )  # fmt: skip


def test_the_same_offer_said_twice_on_one_day_is_one():
    first = an_offer()
    said = {"model": first.answer.model, "component": first.answer.component}
    assert an_offer(**said) == first
    with pytest.raises(BuyingError, match="another charge"):
        an_offer(core_charge="41", **said)
    assert ExchangeOffer.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"component": None}, "component"),
        ({"core_charge": "-1"}, "core_charge"),
        ({"cost": Decimal(-1)}, "cost"),
        ({"given_on": LATER}, "given_on"),
        ({"supplier": " "}, "supplier"),
    ],
)
def test_a_wrong_offer_is_refused_at_its_field(wrong, field):
    with pytest.raises(RefusedError) as refusal:
        an_offer(**wrong)
    assert refusal.value.field == field
    assert not Answer.objects.exists()
    assert not Supplier.objects.exists()


def test_an_exchange_keeps_the_terms_of_its_day():
    exchange = an_exchange(core_charge="40", core_days=21)
    assert (exchange.number, exchange.core_charge, exchange.core_days) == (
        "X00001", Decimal(40), 21,
    )  # fmt: skip
    assert exchange.due_on(TODAY) == TODAY + timedelta(days=21)
    assert exchange.due_on(None) is None


def test_the_same_key_orders_one_exchange():
    key = uuid.uuid4()
    first = an_exchange(key=key)
    assert an_exchange(key=key, offer=first.offer) == first
    assert Exchange.objects.count() == 1


def test_a_withdrawn_offer_is_not_ordered():
    offer = an_offer()
    withdraw_answer(answer=offer.answer, reason="misheard", by=PersonFactory(), at=MORNING)
    offer.answer.refresh_from_db()
    with pytest.raises(BuyingError, match="was withdrawn"):
        an_exchange(offer=offer)


@pytest.mark.parametrize("on", [EARLIER, LATER])
def test_an_exchange_is_ordered_from_the_day_of_its_offer_to_today(on):
    with pytest.raises(BuyingError) as refusal:
        an_exchange(on=on)
    assert refusal.value.field == "ordered_on"


def test_a_step_said_again_stands_and_another_day_is_refused():
    exchange = an_exchange(offer=an_offer(given_on=EARLIER), on=EARLIER)
    first = step(exchange, "came", EARLIER)
    assert step(exchange, "came", EARLIER) == first
    with pytest.raises(BuyingError, match="written down already, for 4 Oct 2026"):
        step(exchange, "came", TODAY)
    assert ExchangeStep.objects.count() == 1


@pytest.mark.parametrize("on", [EARLIER, LATER])
def test_a_step_is_of_a_day_from_the_order_to_today(on):
    with pytest.raises(BuyingError) as refusal:
        step(an_exchange(), "came", on)
    assert refusal.value.field == "done_on"
