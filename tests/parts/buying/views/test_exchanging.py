import uuid

import pytest
from django.urls import reverse

from parts.answers.services import withdraw_answer
from parts.buying.models import Exchange, ExchangeOffer, ExchangeStep
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory
from tests.parts.buying.purchase import an_exchange, an_offer, step

pytestmark = pytest.mark.django_db


def offered(**changes):
    said = {"supplier": "Pellworth boards", "number": "CV-42", "maker": "", "model": ""}
    said |= {"component": "", "cost": "120", "lead_days": "6", "core_charge": "40.00"}
    said |= {"core_days": "21", "given_by": "Dana", "channel": "phone", "given_on": "2026-10-05"}
    return said | changes


def test_an_offer_for_a_part_is_written_down_and_shown(desk):
    PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("exchange-offer-add"), offered(), follow=True).text
    for word in ("CV-42", "Pellworth boards", "$120.00", "$40.00", "Dana"):
        assert word in page


def test_an_offer_for_a_component_of_a_model_is_written_down(desk):
    before = an_offer().answer
    said = offered(number="", model=before.model_id, component=before.component_id, cost="90")
    assert desk.post(reverse("exchange-offer-add"), said).status_code == 302
    assert ExchangeOffer.objects.count() == 2


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"number": ""}, "one of the two"),
        ({"number": "XX-1"}, "Add the part first"),
        ({"core_charge": "-1"}, "greater than or equal to 0"),
        ({"given_on": "2999-01-01"}, "has not come yet"),
        ({"given_by": " "}, "This field is required."),
        ({"channel": "order"}, "Select a valid choice"),
    ],
)
def test_a_wrong_offer_gets_a_sentence(desk, wrong, sentence):
    PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("exchange-offer-add"), offered(**wrong))
    assert (page.status_code, sentence in page.text) == (422, True)
    assert not ExchangeOffer.objects.exists()


def test_a_model_without_a_component_is_asked_for_one(desk):
    model = an_offer().answer.model_id
    page = desk.post(reverse("exchange-offer-add"), offered(number="", model=model))
    assert (page.status_code, "Say which component" in page.text) == (422, True)


def test_an_exchange_is_ordered_once_however_often_it_is_pressed(desk):
    address = reverse("exchange-add", args=[an_offer().pk])
    said = {"document": "J00012", "ordered_on": TODAY.isoformat(), "key": str(uuid.uuid4())}
    assert "X00001" in desk.post(address, said, follow=True).text
    assert "nothing was written again" in desk.post(address, said, follow=True).text
    assert Exchange.objects.count() == 1


def test_a_withdrawn_offer_is_not_found(desk):
    offer = an_offer()
    withdraw_answer(answer=offer.answer, reason="misheard", by=PersonFactory(), at=MORNING)
    assert desk.get(reverse("exchange-add", args=[offer.pk])).status_code == 404


def test_the_old_one_stands_on_the_list_until_it_is_sent(desk):
    exchange = an_exchange(core_charge="40", core_days=21)
    address = reverse("exchange-step", args=[exchange.number])
    page = desk.post(address, {"step": "came", "done_on": TODAY.isoformat()}, follow=True).text
    assert "by 26 Oct 2026; until then they keep $40.00" in page
    page = desk.post(address, {"step": "sent", "done_on": TODAY.isoformat()}, follow=True).text
    assert "No old one waits" in page


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"done_on": "2026-10-04"}, "nothing happened before"),
        ({"done_on": "2999-01-01"}, "has not come yet"),
        ({"step": "lost"}, "Select a valid choice"),
    ],
)
def test_a_wrong_step_gets_a_sentence(desk, wrong, sentence):
    address = reverse("exchange-step", args=[an_exchange().number])
    page = desk.post(address, {"step": "came", "done_on": TODAY.isoformat()} | wrong)
    assert (page.status_code, sentence in page.text) == (422, True)
    assert not ExchangeStep.objects.exists()


def test_the_accountant_reads_and_orders_nothing(reader):
    offer = an_offer()
    assert reader.get(reverse("exchange-list")).status_code == 200
    assert reader.get(reverse("exchange-add", args=[offer.pk])).status_code == 403


def test_the_list_asks_no_more_for_more_rows(desk, django_assert_max_num_queries):
    step(an_exchange(), "came", TODAY)
    with django_assert_max_num_queries(12) as few:
        desk.get(reverse("exchange-list"))
    for number in range(6):
        step(an_exchange(supplier=f"Workshop {number}"), "came", TODAY)
    with django_assert_max_num_queries(len(few.captured_queries)):
        desk.get(reverse("exchange-list"))
