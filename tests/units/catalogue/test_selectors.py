import pytest

from tests.factories.units import KindFactory, MachineModelFactory, MakerFactory, UnitFactory
from units.catalogue.selectors import (
    MOST_SUGGESTIONS,
    current_model,
    model_families,
    model_ids_of,
    suggest_makers,
    suggest_models,
    unit_by_serial,
)
from units.catalogue.services import merge_model

pytestmark = pytest.mark.django_db


def test_makers_are_suggested_by_any_letters_of_their_name():
    corvane, holmgate = MakerFactory(name="Corvane"), MakerFactory(name="Holmgate")
    assert suggest_makers("van") == [corvane]
    assert suggest_makers("") == [corvane, holmgate]
    assert suggest_makers("xyz") == []


def test_models_are_suggested_within_the_maker():
    ours = MachineModelFactory(number="TM-100")
    MachineModelFactory(number="TM-100", maker=MakerFactory(name="Holmgate"))
    assert suggest_models("tm1", "corvane") == [ours]


def test_models_of_all_makers_are_suggested_when_none_is_named():
    MachineModelFactory(number="TM-100")
    MachineModelFactory(number="TM-100", maker=MakerFactory(name="Holmgate"))
    assert len(suggest_models("100")) == 2


def test_merged_model_is_no_longer_suggested():
    old, stays = MachineModelFactory(number="TM-1"), MachineModelFactory(number="TM-1A")
    merge_model(model=old, into=stays)
    assert suggest_models("TM1") == [stays]


def test_suggestions_are_few_and_take_one_query(django_assert_num_queries):
    kind = KindFactory()
    for number in range(MOST_SUGGESTIONS + 5):
        MachineModelFactory(number=f"TM-{number}", kind=kind)
    with django_assert_num_queries(1):
        models = suggest_models("TM", "Corvane")
        assert {str(model.kind) for model in models} == {"treadmill"}
    assert len(models) == MOST_SUGGESTIONS


def test_machine_is_found_by_maker_and_serial_however_typed():
    unit = UnitFactory(serial="CV000123")
    assert unit_by_serial("CORVANE ", "cv-000 123") == unit


@pytest.mark.parametrize(("maker", "serial"), [("Holmgate", "CV1"), ("Corvane", "CV2")])
def test_machine_of_another_maker_or_serial_is_not_found(maker, serial):
    UnitFactory(serial="CV1")
    assert unit_by_serial(maker, serial) is None


def test_no_serial_finds_no_machine():
    UnitFactory(serial="")
    assert unit_by_serial("Corvane", " - ") is None


def test_family_is_the_current_model_and_all_merged_into_it():
    first, second, stays, alone = (MachineModelFactory() for _ in range(4))
    merge_model(model=first, into=stays)
    merge_model(model=second, into=stays)
    family = [first.pk, second.pk, stays.pk]
    assert model_families([first, stays, alone]) == {
        first.pk: family,
        stays.pk: family,
        alone.pk: [alone.pk],
    }


def test_families_of_many_models_take_one_query(django_assert_num_queries):
    models = [MachineModelFactory() for _ in range(6)]
    with django_assert_num_queries(1):
        assert len(model_families(models)) == 6


def test_ids_of_one_model_are_those_of_its_family():
    old, stays = MachineModelFactory(), MachineModelFactory()
    merge_model(model=old, into=stays)
    assert model_ids_of(stays) == model_ids_of(old) == [old.pk, stays.pk]


def test_current_model_is_read_afresh():
    old, stays = MachineModelFactory(), MachineModelFactory()
    assert current_model(old) == old
    merge_model(model=old, into=stays)
    assert current_model(old) == stays
