import pytest
from django.urls import reverse

from parts.fits.models import Fit, Part
from parts.fits.services import set_designation
from tests.factories.parts import FitFactory, PartFactory, SupersessionFactory
from tests.factories.units import (
    MORNING,
    ComponentFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client):
    client.force_login(PersonFactory(seats=["technician"]))
    return client


def standard(part):
    set_designation(part=part, text="8PJ1244", by=PersonFactory(), at=MORNING)


def typed(**changes):
    component = ComponentFactory(slug="deck")
    return {"number": "HG-22", "name": "deck", "component": component.pk} | changes


def test_a_part_is_added_and_shown(bench):
    answered = bench.post(reverse("part-add"), typed(maker=MakerFactory().pk), follow=True)
    assert "HG-22" in answered.text
    assert "Nobody wrote down yet which models it fits." in answered.text


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"number": "--"}, "at least one letter or digit"),
        ({"name": ""}, "This field is required."),
        ({"component": "no-such"}, "Select a valid choice."),
    ],
)
def test_a_wrong_part_gets_a_sentence_and_adds_nothing(bench, wrong, sentence):
    page = bench.post(reverse("part-add"), typed(**wrong))
    assert page.status_code == 422
    assert sentence in page.text
    assert not Part.objects.exists()


def test_adding_the_same_part_twice_gets_a_sentence(bench):
    bench.post(reverse("part-add"), typed())
    page = bench.post(reverse("part-add"), typed())
    assert page.status_code == 422
    assert "is here already" in page.text


def test_a_fit_is_written_down_and_shown_on_the_part(bench):
    part, model = PartFactory(), MachineModelFactory(number="TR-99")
    said = {"model": model.pk, "quantity": "2", "evidence": "tried on", "position": "left side"}
    page = bench.post(reverse("fit-add", args=[part.pk]), said, follow=True).text
    assert "left side" in page
    assert "TR-99" in page
    assert "tried on" in page


def test_a_wrong_fit_gets_a_sentence_and_writes_nothing(bench):
    said = {"model": MachineModelFactory().pk, "quantity": "-1", "evidence": "tried on"}
    page = bench.post(reverse("fit-add", args=[PartFactory().pk]), said)
    assert page.status_code == 422
    assert "greater than or equal to" in page.text
    assert not Fit.objects.exists()


def test_the_accountant_may_look_but_not_add(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert client.get(reverse("part-list")).status_code == 200
    assert client.post(reverse("part-add"), typed()).status_code == 403
    assert not Part.objects.exists()


@pytest.mark.parametrize("text", ["kw 9001", "KW-90", "ribbon"])
def test_the_list_finds_by_number_however_spaced_and_by_name(bench, text):
    PartFactory(number="KW-9001", key="KW9001", name="console ribbon")
    PartFactory(number="CV-0001", key="CV0001", name="deck")
    page = bench.get(reverse("part-list"), {"text": text}).text
    assert "KW-9001" in page
    assert "CV-0001" not in page


def test_a_text_of_signs_only_finds_by_name_and_not_everything(bench):
    PartFactory(number="CV-0001", key="CV0001", name="deck")
    assert "CV-0001" not in bench.get(reverse("part-list"), {"text": "%%"}).text


@pytest.mark.parametrize("text", ["490J8", "1244 pj-8"])
def test_the_list_finds_a_standard_part_by_any_spelling_of_what_stands_in_for_it(bench, text):
    part = PartFactory(number="KW-9001")
    standard(part)
    PartFactory(number="CV-0001")
    page = bench.get(reverse("part-list"), {"text": text}).text
    assert "KW-9001" in page
    assert "CV-0001" not in page


@pytest.mark.parametrize("page", ["part-list", "part"])
def test_the_pages_ask_no_more_for_more_rows(bench, page, django_assert_max_num_queries):
    part = PartFactory()
    address = reverse(page, args=[part.pk] if page == "part" else [])
    FitFactory(part=part)
    standard(part)
    SupersessionFactory(part=part)
    with django_assert_max_num_queries(12) as few:
        bench.get(address)
    for _ in range(20):
        standard(FitFactory().part)
        SupersessionFactory(part=part)
        FitFactory(part=part)
        FitFactory()
    with django_assert_max_num_queries(len(few.captured_queries)):
        bench.get(address)
