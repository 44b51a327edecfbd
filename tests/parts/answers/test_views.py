from decimal import Decimal

import pytest
from django.urls import reverse

from parts.answers.models import Answer, FreshnessRule, Withdrawal
from parts.answers.services import withdraw_answer
from parts.fits.models import Supersession
from tests.factories.parts import AnswerFactory, FitFactory, PartFactory
from tests.factories.units import MORNING, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db
CALL = {
    "status": "supported",
    "warranty": "yes",
    "given_by": "Dana, parts desk",
    "channel": "phone",
    "given_on": "2026-10-05",
}


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def test_a_call_is_written_down_and_leads_back_to_its_model(desk):
    model = MachineModelFactory()
    answered = desk.post(reverse("answer-add", args=[model.pk]), CALL)
    assert answered.headers["Location"] == reverse("model", args=[model.pk])
    assert Answer.objects.get().given_by == "Dana, parts desk"


def test_a_double_click_writes_one_answer(desk):
    address = reverse("answer-add", args=[MachineModelFactory().pk])
    desk.post(address, CALL)
    assert desk.post(address, CALL).status_code == 302
    assert Answer.objects.count() == 1


def test_the_form_asks_for_the_warranty_and_warns(desk):
    page = desk.get(reverse("answer-add", args=[MachineModelFactory().pk]))
    assert "Does the warranty pass to a second owner?" in page.text
    assert "until a written answer says so" in page.text


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"given_on": "2999-01-01"}, "has not come yet"),
        ({"given_on": "soon"}, "Enter a valid date."),
        ({"given_by": " "}, "This field is required."),
        ({"status": "perhaps"}, "Select a valid choice."),
        ({"until": "2026-12-01"}, "Only a back-order has a day"),
    ],
)
def test_a_wrong_answer_gets_a_sentence_and_writes_nothing(desk, wrong, sentence):
    page = desk.post(reverse("answer-add", args=[MachineModelFactory().pk]), CALL | wrong)
    assert page.status_code == 422
    assert sentence in page.text
    assert not Answer.objects.exists()


def test_a_model_that_is_not_there_is_not_found(desk):
    assert desk.get(reverse("answer-add", args=[999])).status_code == 404


def test_a_yes_by_telephone_is_shown_as_not_in_writing(desk):
    AnswerFactory(warranty="yes", channel="phone")
    assert "said so by telephone, not in writing" in desk.get(reverse("answer-list")).text


def test_a_written_yes_is_shown_as_written(desk):
    AnswerFactory(warranty="yes", channel="mail")
    page = desk.get(reverse("answer-list")).text
    assert "Passes to a second owner, in writing." in page
    assert "not in writing" not in page


@pytest.mark.parametrize("name", ["status", "channel", "text"])
def test_the_list_narrows(desk, name):
    wanted = AnswerFactory(status="ended", channel="notice", given_by="the wanted one")
    AnswerFactory(given_by="the other one")
    value = {"status": "ended", "channel": "notice", "text": wanted.model.number}[name]
    page = desk.get(reverse("answer-list"), {name: value}).text
    assert "the wanted one" in page
    assert "the other one" not in page


def test_the_list_asks_no_more_for_more_answers(desk, django_assert_max_num_queries):
    address = reverse("answer-list")
    for _ in range(3):
        AnswerFactory()
    with django_assert_max_num_queries(12) as few:
        desk.get(address)
    for _ in range(20):
        AnswerFactory()
    with django_assert_max_num_queries(len(few.captured_queries)):
        desk.get(address)


def test_the_owner_withdraws_an_answer_and_the_list_says_so(owner):
    answer = AnswerFactory()
    answered = owner.post(reverse("answer-withdraw", args=[answer.pk]), {"reason": "other model"})
    assert answered.headers["Location"] == reverse("model", args=[answer.model_id])
    page = owner.get(reverse("answer-list")).text
    assert "withdrawn by Robin" in page
    assert "other model" in page


def test_withdrawing_twice_gets_a_sentence(owner):
    answer = AnswerFactory()
    withdraw_answer(answer=answer, reason="wrong", by=PersonFactory(), at=MORNING)
    page = owner.post(reverse("answer-withdraw", args=[answer.pk]), {"reason": "again"})
    assert page.status_code == 422
    assert "withdrew this answer already" in page.text
    assert Withdrawal.objects.count() == 1


def test_the_front_desk_may_not_withdraw(desk):
    answer = AnswerFactory()
    refused = desk.post(reverse("answer-withdraw", args=[answer.pk]), {"reason": "wrong"})
    assert refused.status_code == 403
    assert not Withdrawal.objects.exists()


@pytest.fixture
def phone_rule():
    return FreshnessRule.objects.create(channel="phone", days=180, back_order_days=30)


def test_the_owner_sets_for_how_long_an_answer_counts(owner, phone_rule):
    said = {"phone-days": "90", "phone-back_order_days": ""}
    assert owner.post(reverse("freshness"), said).headers["Location"] == reverse("freshness")
    phone_rule.refresh_from_db()
    assert (phone_rule.days, phone_rule.back_order_days) == (90, None)
    [change] = phone_rule.changes.all()
    assert (change.days, change.back_order_days) == (90, None)
    assert "by telephone" in owner.get(reverse("freshness")).text


def test_what_was_not_changed_leaves_no_change(owner, phone_rule):
    owner.post(reverse("freshness"), {"phone-days": "180", "phone-back_order_days": "30"})
    assert not phone_rule.changes.exists()


def test_a_wrong_number_of_days_stands_at_its_field_and_changes_nothing(owner, phone_rule):
    page = owner.post(reverse("freshness"), {"phone-days": "-3", "phone-back_order_days": "9"})
    assert page.status_code == 422
    phone_rule.refresh_from_db()
    assert (phone_rule.days, phone_rule.back_order_days) == (180, 30)


def test_answers_are_narrowed_by_a_part_of_a_number(desk):
    AnswerFactory(model__number="T-310", model__key="T310")
    AnswerFactory(model__number="E-900", model__key="E900")
    page = desk.get(reverse("answer-list"), {"text": "t 31"})
    assert "T-310" in page.text
    assert "E-900" not in page.text


def test_an_answer_about_a_component_a_part_and_a_price(desk):
    fit = FitFactory()
    address = reverse("answer-add", args=[fit.model_id])
    said = CALL | {"part": fit.part_id, "cost": "41.50", "lead_days": "6", "dealer_only": "on"}
    assert desk.post(address, said).status_code == 302
    answer = Answer.objects.get()
    assert (answer.model, answer.part_id, answer.lead_days) == (None, fit.part_id, 6)
    assert (answer.cost, answer.dealer_only) == (Decimal("41.50"), True)


def test_a_part_that_became_another_makes_the_link_between_the_two(desk):
    fit = FitFactory()
    later = PartFactory(maker=fit.part.maker)
    said = CALL | {"status": "superseded", "part": fit.part_id, "replaced_by": later.number}
    desk.post(reverse("answer-add", args=[fit.model_id]), said)
    assert Supersession.objects.get().replaced_by == later


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"replaced_by": "ZZ-9"}, "No part has the number"),
        ({"status": "superseded"}, "Only a part is replaced by another number"),
        ({"route": "supplier"}, "Name the supplier or workshop"),
        ({"party": "Spares"}, "names no supplier"),
        ({"cost": "-1"}, "greater than or equal to 0"),
    ],
)
def test_a_narrow_answer_that_makes_no_sense_gets_a_sentence(desk, wrong, sentence):
    page = desk.post(reverse("answer-add", args=[MachineModelFactory().pk]), CALL | wrong)
    assert page.status_code == 422
    assert sentence in page.text
    assert not Answer.objects.exists()


def test_a_chain_that_bites_its_tail_is_refused_at_its_field(desk):
    fit = FitFactory()
    later = FitFactory(model=fit.model, part__maker=fit.part.maker).part
    address = reverse("answer-add", args=[fit.model_id])
    became = CALL | {"status": "superseded"}
    desk.post(address, became | {"part": fit.part_id, "replaced_by": later.number})
    page = desk.post(address, became | {"part": later.pk, "replaced_by": fit.part.number})
    assert page.status_code == 422
    assert Answer.objects.count() == 1
