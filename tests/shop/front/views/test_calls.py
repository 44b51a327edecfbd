import pytest
from django.urls import reverse
from django.utils import timezone

from parts.answers.models import Answer
from tests.factories.shop import StayFactory
from tests.factories.units import KindComponentFactory, MachineModelFactory

pytestmark = pytest.mark.django_db
SAID = {
    "status": "limited",
    "warranty": "unknown",
    "given_by": "Dana, parts desk",
    "channel": "phone",
    "given_on": timezone.localdate().isoformat(),
}


@pytest.fixture
def own():
    """Two machines of ours, of two models that nobody has asked about."""
    return [StayFactory(owner=None, came="purchase").unit for _ in range(2)]


def test_models_on_which_something_hangs_are_listed(sit, own):
    MachineModelFactory(number="Z-900")
    page = sit("owner").get(reverse("call-list"))
    assert "1 machine to sell" in page.text
    assert "Z-900" not in page.text


def test_without_machines_nobody_is_to_be_asked(sit):
    assert "Nobody to ask" in sit("owner").get(reverse("call-list")).text


def test_the_call_shows_the_plate_and_the_questions(sit, own):
    page = sit("front desk").get(reverse("call", args=[own[0].model_id]))
    assert own[0].serial in page.text
    assert "Does the warranty pass to a second owner?" in page.text


def test_an_answer_is_written_down_and_the_next_call_comes_up(sit, own):
    desk = sit("front desk")
    answered = desk.post(reverse("call", args=[own[0].model_id]), SAID)
    assert answered.headers["Location"] == reverse("call", args=[own[1].model_id])
    assert Answer.objects.get().model_id == own[0].model_id


def test_more_about_the_same_model_stays_with_it(sit, own):
    here = reverse("call", args=[own[0].model_id])
    assert sit("front desk").post(here, SAID | {"more": "1"}).headers["Location"] == here


def test_a_wrong_answer_stays_on_the_form(sit, own):
    here = reverse("call", args=[own[0].model_id])
    page = sit("front desk").post(here, SAID | {"given_on": "2999-01-01"})
    assert page.status_code == 422
    assert "has not come yet" in page.text
    assert "Dana, parts desk" in page.text


def test_a_component_named_in_the_call_is_its_own_answer(sit, own):
    model = own[0].model
    component = KindComponentFactory(kind=model.kind)
    said = SAID | {"component": component.component_id, "status": "ended"}
    sit("front desk").post(reverse("call", args=[model.pk]), said)
    assert Answer.objects.get().component_id == component.component_id


def test_the_accountant_makes_no_calls(sit, own):
    assert sit("accountant").get(reverse("call-list")).status_code == 403


def test_the_list_needs_no_more_queries_for_more_machines(sit, django_assert_max_num_queries):
    for _machine in range(6):
        StayFactory(owner=None, came="purchase")
    owner = sit("owner")
    with django_assert_max_num_queries(12):
        owner.get(reverse("call-list"))


def test_the_calls_go_down_the_list_and_end(sit):
    models = [StayFactory(owner=None, came="purchase").unit.model for _machine in range(3)]
    owner, seen = sit("owner"), []
    page = owner.get(reverse("call-list"))
    order = [row.call.model.pk for row in page.context["calls"]]
    assert sorted(order) == sorted(model.pk for model in models)
    here = order[0]
    while here:
        seen.append(here)
        following = owner.get(reverse("call", args=[here])).context["page"].following
        here = following and following.pk
    assert seen == order
