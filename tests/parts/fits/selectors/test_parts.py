import pytest

from parts.fits.selectors import fits_of, fitting_parts
from tests.factories.parts import FitFactory, PartFactory
from tests.factories.units import MachineModelFactory

pytestmark = pytest.mark.django_db


def test_parts_come_under_the_component_that_they_serve():
    model = MachineModelFactory()
    belt = FitFactory(model=model, part__component__slug="running-belt")
    deck = FitFactory(model=model, part__component__slug="deck")
    FitFactory(model=model, part__component__slug="fan")
    found = fitting_parts(model, ["running-belt", "deck", "ribbon"])
    assert found == {"running-belt": [belt], "deck": [deck], "ribbon": []}


def test_a_part_of_another_model_does_not_fit():
    FitFactory(part__component__slug="deck")
    assert fitting_parts(MachineModelFactory(), ["deck"]) == {"deck": []}


def test_what_fits_a_name_merged_later_fits_the_model():
    current = MachineModelFactory()
    fit = FitFactory(model__merged_into=current)
    assert fits_of([current, fit.model]) == {current.pk: [fit], fit.model_id: [fit]}


def test_a_part_known_under_two_merged_names_comes_once_by_the_models_own_fit():
    current, part = MachineModelFactory(), PartFactory()
    FitFactory(part=part, model__merged_into=current)
    own = FitFactory(part=part, model=current)
    assert fits_of([current])[current.pk] == [own]


def test_fits_need_as_many_queries_for_many_models_as_for_one(django_assert_num_queries):
    models = [FitFactory().model for _ in range(10)]
    for asked in (models[:1], models):
        with django_assert_num_queries(2):
            for fits in fits_of(asked).values():
                assert [fit.part.component.name for fit in fits] == ["running belt"]
