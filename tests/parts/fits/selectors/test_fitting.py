from datetime import timedelta
from decimal import Decimal

import pytest

from parts.fits.selectors import fittings
from parts.fits.services import set_designation, withdraw_sister, withdraw_supersession
from tests.factories.parts import FitFactory, PartFactory, SisterFactory, SupersessionFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    MachineModelFactory,
    PersonFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def model():
    return MachineModelFactory()


def shown(model, slug="running-belt", **asked):
    """Part and way of everything that fits a component of a model."""
    found = fittings([model], **asked)[model.pk]
    return [(one.part, one.via) for one in found.get(slug, [])]


def standard(text, **said):
    part = PartFactory(**said)
    return set_designation(part=part, text=text, by=PersonFactory(), at=MORNING)


def test_a_fit_says_how_many_where_and_how_we_know(model):
    fit = FitFactory(model=model, quantity=Decimal(2), position="both ends")
    (one,) = fittings([model])[model.pk]["running-belt"]
    assert (one.part, one.quantity, one.position) == (fit.part, 2, "both ends")
    assert (one.via, one.evidence) == ("fits", "maker's parts list")


def test_a_model_that_nothing_fits_has_no_component(model):
    FitFactory()
    assert fittings([model]) == {model.pk: {}}


def test_fits_of_names_merged_together_are_fits_of_both():
    current = MachineModelFactory()
    fit = FitFactory(model__merged_into=current)
    assert shown(current) == shown(fit.model) == [(fit.part, "fits")]


def test_a_part_known_under_two_merged_names_comes_by_the_models_own_fit(model):
    part = PartFactory()
    FitFactory(part=part, model__merged_into=model, evidence="tried on")
    FitFactory(part=part, model=model)
    (one,) = fittings([model])[model.pk]["running-belt"]
    assert one.evidence == "maker's parts list"


def test_every_later_number_fits_where_the_first_one_does(model):
    first = FitFactory(model=model, quantity=Decimal(3)).part
    second = SupersessionFactory(part=first).replaced_by
    last = SupersessionFactory(part=second, evidence="on the bag").replaced_by
    assert shown(model) == [(first, "fits"), (second, "superseded"), (last, "superseded")]
    one = fittings([model])[model.pk]["running-belt"][-1]
    assert (one.quantity, one.evidence) == (3, "maker's parts list; on the bag")


def test_a_later_number_serves_the_place_of_the_earlier_one(model):
    first = FitFactory(model=model).part
    kit = PartFactory(component=ComponentFactory(slug="deck"))
    SupersessionFactory(part=first, replaced_by=kit)
    assert (kit, "superseded") in shown(model)
    assert shown(model, "deck") == []


def test_a_withdrawn_link_leads_nowhere(model):
    link = SupersessionFactory(part=FitFactory(model=model).part)
    SupersessionFactory(part=link.replaced_by)
    withdraw_supersession(supersession=link, reason="misread", by=PersonFactory(), at=MORNING)
    assert shown(model) == [(link.part, "fits")]


def test_what_fits_a_sister_fits_with_its_later_numbers(model):
    sister = SisterFactory(model=model)
    part = FitFactory(model=sister.other).part
    last = SupersessionFactory(part=part).replaced_by
    assert shown(model) == [(part, "sister"), (last, "sister")]
    assert shown(sister.other) == [(part, "fits"), (last, "superseded")]
    one = fittings([model])[model.pk]["running-belt"][0]
    assert one.evidence == "same parts list; maker's parts list"


def test_a_sister_in_one_component_is_none_in_another(model):
    sister = SisterFactory(model=model, component=ComponentFactory(slug="deck"))
    FitFactory(model=sister.other)
    deck = FitFactory(model=sister.other, part__component__slug="deck").part
    assert shown(model) == []
    assert shown(model, "deck") == [(deck, "sister")]


def test_a_sister_merged_since_is_still_one(model):
    sister = SisterFactory(model=model)
    current = MachineModelFactory()
    part = FitFactory(model=current).part
    sister.other.merged_into = current
    sister.other.save()
    assert shown(model) == [(part, "sister")]


def test_a_sister_of_a_sister_is_none_unless_somebody_says_so(model):
    sister = SisterFactory(model=model)
    further = SisterFactory(model=sister.other)
    FitFactory(model=further.other)
    assert shown(model) == []


def test_a_withdrawn_sister_shares_nothing(model):
    sister = SisterFactory(model=model)
    FitFactory(model=sister.other)
    withdraw_sister(sister=sister, reason="other frame", by=PersonFactory(), at=MORNING)
    assert shown(model) == []


def test_a_part_that_fits_itself_is_not_said_to_fit_a_sister(model):
    sister, part = SisterFactory(model=model), PartFactory()
    FitFactory(model=sister.other, part=part)
    FitFactory(model=model, part=part)
    assert shown(model) == [(part, "fits")]


@pytest.mark.parametrize(
    ("ours", "alike", "serves"),
    [
        ("8PJ1244", "490J8", True),
        ("8PJ1244", "8PJ1246", False),
        ("6203-2Z", "6203zz", True),
        ("6203-2Z", "6203-2RS", False),
        ("5-15P C13 16 AWG", "5-15P C13 14 AWG", True),
        ("5-15P C13 14 AWG", "5-15P C13 16 AWG", False),
    ],
)
def test_a_standard_part_that_stands_in_fits(model, ours, alike, serves):
    own, other = standard(ours), standard(alike)
    FitFactory(model=model, part=own)
    expected = [(own, "fits")] + [(other, "standard")] * serves
    assert shown(model) == expected


def test_parts_that_are_no_standard_ones_are_not_alike(model):
    part = FitFactory(model=model).part
    PartFactory()
    assert shown(model) == [(part, "fits")]


def test_only_the_components_asked_for_are_told(model):
    FitFactory(model=model)
    deck = FitFactory(model=model, part__component__slug="deck").part
    assert shown(model, "deck", components=["deck"]) == [(deck, "fits")]
    assert shown(model, components=["deck"]) == []


def test_on_an_earlier_day_the_number_had_not_changed(model):
    link = SupersessionFactory(part=FitFactory(model=model).part, on=TODAY)
    yesterday = TODAY - timedelta(days=1)
    assert shown(model, on=yesterday) == [(link.part, "fits")]
    assert shown(model, on=TODAY) == [(link.part, "fits"), (link.replaced_by, "superseded")]


def test_what_was_written_or_withdrawn_later_was_as_it_stood_before(model):
    later = MORNING + timedelta(hours=1)
    fit = FitFactory(model=model)
    link = SupersessionFactory(part=fit.part)
    sister = SisterFactory(model=model, recorded_at=later)
    FitFactory(model=sister.other)
    FitFactory(model=model, recorded_at=later)
    withdraw_supersession(supersession=link, reason="misread", by=PersonFactory(), at=later)
    then = [(fit.part, "fits"), (link.replaced_by, "superseded")]
    assert shown(model, known_at=MORNING) == then
    assert shown(model, known_at=MORNING - timedelta(hours=1)) == []
    assert (link.replaced_by, "superseded") not in shown(model)


def test_many_models_need_as_many_queries_as_one(django_assert_num_queries):
    models = []
    for _ in range(8):
        model = MachineModelFactory()
        FitFactory(model=model, part=standard("8PJ1244"))
        first = SupersessionFactory(part=FitFactory(model=model).part)
        SupersessionFactory(part=first.replaced_by)
        FitFactory(model=SisterFactory(model=model).other)
        models.append(model)
    standard("490J8")
    for asked in (models[:1], models):
        with django_assert_num_queries(4):
            for placed in fittings(asked).values():
                for one in placed["running-belt"]:
                    assert f"{one.part} {one.part.designation}"


def test_more_parts_than_are_asked_for_by_name_get_their_later_numbers(model, monkeypatch):
    link = SupersessionFactory(part=FitFactory(model=model).part)
    FitFactory(model=model)
    SupersessionFactory()
    before = shown(model)
    monkeypatch.setattr("parts.fits.querysets.MOST_NAMED", 1)
    assert shown(model) == before
    assert (link.replaced_by, "superseded") in before
