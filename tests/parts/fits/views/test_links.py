import pytest
from django.urls import reverse

from parts.fits.models import Part, Sister, Supersession
from tests.factories.parts import FitFactory, PartFactory, SisterFactory, SupersessionFactory
from tests.factories.units import (
    KindComponentFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(client):
    client.force_login(PersonFactory(seats=["technician"]))
    return client


@pytest.fixture
def owner(client):
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def become(client, part, **changes):
    said = {
        "number": "CV-900",
        "maker": part.maker_id,
        "on": "2026-10-05",
        "evidence": "printed on the bag",
    }
    return client.post(reverse("part-supersede", args=[part.pk]), said | changes, follow=True)


def test_a_later_number_is_written_down_and_shown_both_ways(bench):
    part = PartFactory(number="CV-77")
    page = become(bench, part).text
    assert "CV-77 became CV-900: written down." in page
    assert "CV-77 is an old number" in page
    later = Part.objects.get(number="CV-900")
    assert "CV-77" in bench.get(reverse("part", args=[later.pk])).text


def test_a_chain_that_bites_its_tail_gets_a_sentence_at_the_number(bench):
    maker = MakerFactory()
    link = SupersessionFactory(part__number="CV-1", part__key="CV1", part__maker=maker)
    answered = become(bench, link.replaced_by, number="CV-1", maker=maker.pk)
    assert answered.status_code == 422
    assert "would bite its tail" in str(answered.context["form"].errors["number"])
    assert Supersession.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field", "sentence"),
    [
        ({"on": "2999-01-01"}, "on", "has not come yet"),
        ({"on": "yesterday"}, "on", "valid date"),
        ({"evidence": ""}, "evidence", "required"),
        ({"number": "--"}, "number", "at least one letter or digit"),
    ],
)
def test_a_wrong_later_number_gets_a_sentence_and_writes_nothing(bench, wrong, field, sentence):
    answered = become(bench, PartFactory(), **wrong)
    assert answered.status_code == 422
    assert sentence in str(answered.context["form"].errors[field])
    assert not Supersession.objects.exists()
    assert Part.objects.count() == 1


def test_the_same_form_sent_twice_is_told_the_second_time(bench):
    part = PartFactory()
    become(bench, part)
    answered = become(bench, part)
    assert answered.status_code == 422
    assert "written down already" in answered.text
    assert Supersession.objects.count() == 1


def test_the_front_desk_may_not_replace_a_number(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    assert become(client, PartFactory()).status_code == 403
    assert not Supersession.objects.exists()


def test_the_owner_withdraws_a_link_with_the_reason_and_it_stands_struck_out(owner):
    link = SupersessionFactory()
    address = reverse("supersession-withdraw", args=[link.pk])
    assert "maker&#x27;s notice" in owner.get(address).text
    page = owner.post(address, {"reason": "misread"}, follow=True).text
    assert "<s>maker&#x27;s notice</s>" in page
    assert "misread" in page
    again = owner.post(address, {"reason": "misread"})
    assert again.status_code == 422
    assert "withdrawn before" in again.text


def test_the_bench_may_not_withdraw(bench):
    link, sister = SupersessionFactory(), SisterFactory()
    for name, one in [("supersession-withdraw", link), ("sister-withdraw", sister)]:
        assert bench.post(reverse(name, args=[one.pk]), {"reason": "x"}).status_code == 403
        one.refresh_from_db()
        assert one.withdrawn_at is None


def designate(client, part, text):
    address = reverse("part-designation", args=[part.pk])
    return client.post(address, {"designation": text}, follow=True)


def test_a_designation_is_told_and_its_sizes_and_equals_are_shown(bench):
    part, other = PartFactory(), PartFactory(number="HG-9")
    designate(bench, other, "490J8")
    page = designate(bench, part, "1244 PJ 8").text
    assert "8PJ1244" in page
    assert "18.72 mm" in page
    assert "HG-9" in page


def test_a_designation_is_taken_away_again(bench):
    part = PartFactory()
    designate(bench, part, "6203")
    assert "is no standard part" in designate(bench, part, "").text
    part.refresh_from_db()
    assert part.designation == ""


def test_a_wrong_designation_gets_its_character_and_the_known_forms(bench):
    part = PartFactory()
    answered = designate(bench, part, "8PX1244")
    assert answered.status_code == 422
    said = str(answered.context["form"].errors["designation"])
    assert "character 3, “X”" in said
    assert "Known forms: 8PJ1244" in said
    part.refresh_from_db()
    assert part.designation == ""


def test_a_sister_is_told_from_the_models_page_and_shown_on_both(bench):
    model, other = MachineModelFactory(number="TR-1"), MachineModelFactory(number="TR-2")
    said = {"other": other.pk, "evidence": "same parts list"}
    page = bench.post(reverse("model-sisters", args=[model.pk]), said, follow=True).text
    assert "share parts" in page
    assert "everything" in page
    assert "TR-1" in bench.get(reverse("model-sisters", args=[other.pk])).text


def test_sisters_share_only_the_components_that_are_ticked(bench):
    row = KindComponentFactory()
    model, other = MachineModelFactory(kind=row.kind), MachineModelFactory(kind=row.kind)
    said = {"other": other.pk, "evidence": "belt tried on", "components": [row.component_id]}
    bench.post(reverse("model-sisters", args=[model.pk]), said)
    assert Sister.objects.get().component_id == row.component_id


def test_the_same_sister_told_twice_gets_a_sentence(bench):
    link = SisterFactory()
    said = {"other": link.other_id, "evidence": "same parts list"}
    answered = bench.post(reverse("model-sisters", args=[link.model_id]), said)
    assert answered.status_code == 422
    assert "written down already" in answered.text
    assert Sister.objects.count() == 1


def test_a_model_is_not_offered_itself_as_a_sister(bench):
    model = MachineModelFactory()
    said = {"other": model.pk, "evidence": "same parts list"}
    answered = bench.post(reverse("model-sisters", args=[model.pk]), said)
    assert answered.status_code == 422
    assert not Sister.objects.exists()


def test_the_owner_withdraws_a_sister(owner):
    link = SisterFactory()
    owner.post(reverse("sister-withdraw", args=[link.pk]), {"reason": "other frame"})
    page = owner.get(reverse("model-sisters", args=[link.model_id])).text
    assert "<s>same parts list</s>" in page
    assert "other frame" in page


def test_the_page_of_sisters_asks_no_more_for_more_rows(bench, django_assert_max_num_queries):
    model = MachineModelFactory()
    address = reverse("model-sisters", args=[model.pk])
    SisterFactory(model=model)
    with django_assert_max_num_queries(12) as few:
        bench.get(address)
    for _ in range(10):
        SisterFactory(model=model)
    with django_assert_max_num_queries(len(few.captured_queries)):
        bench.get(address)


def test_a_fit_that_was_wrong_is_withdrawn_with_its_reason_and_stays_struck(bench):
    fit = FitFactory(evidence="by its look")
    address = reverse("fit-withdraw", args=[fit.pk])
    assert address in bench.get(fit.part.get_absolute_url()).text
    empty = bench.post(address, {"reason": ""})
    assert empty.status_code == 422
    page = bench.post(address, {"reason": "its lugs are narrower"}, follow=True).text
    assert "It counts no longer." in page
    assert "<s>by its look</s>" in page
    assert "its lugs are narrower" in page
    assert address not in page


def test_withdrawing_a_fit_a_second_time_says_why_it_was_the_first(bench):
    fit = FitFactory()
    address = reverse("fit-withdraw", args=[fit.pk])
    bench.post(address, {"reason": "its lugs are narrower"})
    second = bench.post(address, {"reason": "another word"})
    assert second.status_code == 422
    assert "This was withdrawn before: its lugs are narrower" in second.text


def test_the_desk_does_not_withdraw_fits(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    fit = FitFactory()
    assert (
        reverse("fit-withdraw", args=[fit.pk]) not in client.get(fit.part.get_absolute_url()).text
    )
    assert client.get(reverse("fit-withdraw", args=[fit.pk])).status_code == 403
