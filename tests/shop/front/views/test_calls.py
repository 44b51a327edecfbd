import pytest
from django.urls import reverse
from django.utils import timezone

from parts.answers.models import Answer, FreshnessRule
from shop.lots.services import Facts, walk_away
from tests.factories.parts import FitFactory
from tests.factories.shop import StayFactory
from tests.factories.units import MORNING, TODAY, KindComponentFactory, MachineModelFactory
from tests.shop.lots.lots import a_listed_lot

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
        onward = owner.get(reverse("call", args=[here]), {"part": "next"}).headers["Location"]
        here = next((pk for pk in order if reverse("call", args=[pk]) == onward), None)
    assert seen == order
    assert onward == reverse("call-list")


def test_the_next_call_is_named_where_a_script_fetches_it(sit, own):
    desk, asked = sit("front desk"), {"part": "next"}
    here, there = (reverse("call", args=[unit.model_id]) for unit in own)
    fetched = desk.get(here, asked, headers={"HX-Request": "true"}).text
    assert f'href="{there}"' in fetched
    assert "1 left" in fetched
    assert "last of the list" in desk.get(there, asked, headers={"HX-Request": "true"}).text


def test_what_is_known_is_fetched_and_stands_alone_as_well(sit, own):
    model = own[0].model
    KindComponentFactory(kind=model.kind, component__name="running belt", wears=True)
    desk, here = sit("front desk"), reverse("call", args=[model.pk])
    page = desk.get(here)
    assert f'hx-get="{here}?part=known"' in page.text
    fetched = desk.get(here, {"part": "known"}, headers={"HX-Request": "true"}).text
    assert "running belt" in fetched
    assert "Nobody has asked yet" in fetched
    assert "<!doctype html>" not in fetched
    assert "<!doctype html>" in desk.get(here, {"part": "known"}).text


@pytest.mark.parametrize("asked", [{}, {"part": "known"}, {"part": "next"}])
def test_a_call_about_a_model_that_is_not_there_is_not_found(sit, own, asked):
    found = sit("front desk").get(reverse("call", args=[99999]), asked)
    assert found.status_code == (302 if asked.get("part") == "next" else 404)


def test_a_part_that_a_call_has_not_is_not_found(sit, own):
    here = reverse("call", args=[own[0].model_id])
    assert sit("front desk").get(here, {"part": "more"}).status_code == 404


@pytest.mark.parametrize("asked", [{}, {"part": "known"}, {"part": "next"}])
def test_a_call_asks_at_most_12_queries_whatever_is_known(
    sit, asked, django_assert_max_num_queries
):
    for _machine in range(4):
        unit = StayFactory(owner=None, came="purchase").unit
        FitFactory(model=unit.model)
    owner, here = sit("owner"), reverse("call", args=[unit.model_id])
    FreshnessRule.objects.create(channel="phone", days=180)
    owner.get(here, {"part": "known"})  # the first question of a day also learns the odds
    with django_assert_max_num_queries(12):
        owner.get(here, asked, headers={"HX-Request": "true"})


def test_machines_offered_in_a_lot_weigh_less_than_those_to_be_sold(sit, own):
    model = own[0].model
    a_listed_lot(Facts("three of them", model=model, count=3))
    page = sit("owner").get(reverse("call-list"))
    row = next(one for one in page.context["calls"] if one.call.model == model)
    other = next(one for one in page.context["calls"] if one.call.model != model)
    assert "3 machines offered in lots" in page.text
    assert (row.stake.offered, row.stake.weight, other.stake.weight) == (3, 2.5, 1.0)
    assert page.context["calls"][0] == row
    call = sit("owner").get(reverse("call", args=[model.pk]))
    assert "3 machines offered in lots" in call.text


def test_a_lot_that_was_left_weighs_nothing(sit):
    lot = a_listed_lot(Facts("three of them", model=MachineModelFactory(), count=3))
    walk_away(lot=lot, why="too dear", on=TODAY, by=lot.recorded_by, at=MORNING)
    assert "Nobody to ask" in sit("owner").get(reverse("call-list")).text
