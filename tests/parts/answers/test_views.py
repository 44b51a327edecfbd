import pytest
from django.urls import reverse

from parts.answers.models import Answer, Withdrawal
from parts.answers.services import withdraw_answer
from tests.factories.parts import AnswerFactory
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


@pytest.mark.parametrize("name", ["status", "channel", "model"])
def test_the_list_narrows(desk, name):
    wanted = AnswerFactory(status="ended", channel="notice", given_by="the wanted one")
    AnswerFactory(given_by="the other one")
    value = {"status": "ended", "channel": "notice", "model": wanted.model_id}[name]
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
