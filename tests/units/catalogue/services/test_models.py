from decimal import Decimal

import pytest

from tests.factories.units import (
    KindFactory,
    MachineModelFactory,
    MakerFactory,
    UnitFactory,
)
from units.catalogue.models import MachineModel, Maker, Unit
from units.catalogue.services import (
    CatalogueError,
    ModelFacts,
    find_or_add_maker,
    find_or_add_model,
    merge_model,
    save_model,
)

pytestmark = pytest.mark.django_db


def test_new_maker_is_kept_as_typed():
    assert find_or_add_maker(name="  Holmgate   Works ").name == "Holmgate Works"


@pytest.mark.parametrize("name", ["corvane", "COR-VANE", " Corvane. "])
def test_maker_is_found_however_it_is_typed(name):
    maker = MakerFactory(name="Corvane")
    assert find_or_add_maker(name=name) == maker
    assert Maker.objects.count() == 1


@pytest.mark.parametrize("name", ["", "  ", "--"])
def test_maker_without_a_letter_is_refused(name):
    with pytest.raises(CatalogueError, match="needs at least one letter"):
        find_or_add_maker(name=name)


def test_maker_longer_than_its_place_is_refused():
    with pytest.raises(CatalogueError, match="at most 80"):
        find_or_add_maker(name="x" * 81)


def test_name_whose_key_outgrows_its_place_is_refused():
    with pytest.raises(CatalogueError, match="at most 80"):
        find_or_add_maker(name="ﷺ" * 20)


def test_new_model_is_unconfirmed():
    model = find_or_add_model(maker=MakerFactory(), number="TM 9", kind=KindFactory())
    assert (model.number, model.key, model.confirmed) == ("TM 9", "TM9", False)


def test_known_model_needs_no_kind():
    model = MachineModelFactory(number="TM-9")
    assert find_or_add_model(maker=model.maker, number="tm 9", kind=None) == model


def test_new_model_without_a_kind_is_refused():
    with pytest.raises(CatalogueError, match="Say what kind of machine"):
        find_or_add_model(maker=MakerFactory(), number="TM-9", kind=None)
    assert not MachineModel.objects.exists()


def test_same_number_of_another_maker_is_another_model():
    model = MachineModelFactory(number="TM-9")
    other = find_or_add_model(
        maker=MakerFactory(name="Holmgate"), number="TM-9", kind=KindFactory()
    )
    assert other != model


def test_merged_number_leads_to_the_model_that_stayed():
    old, stays = MachineModelFactory(number="TM9-OLD"), MachineModelFactory(number="TM-9")
    merge_model(model=old, into=stays)
    assert find_or_add_model(maker=old.maker, number="TM9-OLD", kind=old.kind) == stays


def test_saving_a_model_keeps_every_fact():
    model = MachineModelFactory(number="TM-9", confirmed=False)
    rower = KindFactory(slug="rower")
    facts = ModelFacts(
        number="TM-10",
        kind=rower,
        name="Glide",
        grade="commercial",
        volts=120,
        hertz=60,
        amps=Decimal("12.5"),
        plug="5-15",
        mass=Decimal("104.5"),
    )
    save_model(model=model, facts=facts)
    saved = MachineModel.objects.get()
    assert saved.key == "TM10"
    assert ModelFacts(**{name: getattr(saved, name) for name in vars(facts)}) == facts


def test_number_of_another_model_is_refused_and_nothing_saved():
    MachineModelFactory(number="TM-9")
    model = MachineModelFactory(number="TM-10")
    with pytest.raises(CatalogueError, match="Merge the two instead"):
        save_model(model=model, facts=ModelFacts(number="tm9", kind=model.kind, name="Glide"))
    model.refresh_from_db()
    assert (model.number, model.name) == ("TM-10", "")


def test_merging_moves_the_machines():
    old, stays = MachineModelFactory(), MachineModelFactory()
    unit = UnitFactory(model=old)
    merge_model(model=old, into=stays)
    unit.refresh_from_db()
    old.refresh_from_db()
    assert unit.model == stays
    assert old.merged_into == stays


def test_merging_across_makers_moves_the_machines_to_the_maker_that_stayed():
    stays = MachineModelFactory()
    old = MachineModelFactory(maker=MakerFactory(name="Corvan"))
    unit = UnitFactory(model=old)
    merge_model(model=old, into=stays)
    unit.refresh_from_db()
    assert unit.maker == stays.maker


def test_merging_again_keeps_every_way_one_step_long():
    first, second, third = (MachineModelFactory() for _ in range(3))
    merge_model(model=first, into=second)
    merge_model(model=second, into=third)
    first.refresh_from_db()
    assert first.merged_into == third


def test_model_is_not_merged_into_itself():
    model = MachineModelFactory()
    with pytest.raises(CatalogueError, match="into itself"):
        merge_model(model=model, into=model)


def test_model_is_merged_once_only():
    old, stays, other = (MachineModelFactory() for _ in range(3))
    merge_model(model=old, into=stays)
    with pytest.raises(CatalogueError, match="was merged into"):
        merge_model(model=old, into=other)


def test_model_is_not_merged_into_a_merged_one():
    old, stays, other = (MachineModelFactory() for _ in range(3))
    merge_model(model=old, into=stays)
    with pytest.raises(CatalogueError, match="Choose that one"):
        merge_model(model=other, into=old)


def test_different_kinds_are_not_merged():
    rower = MachineModelFactory(kind=KindFactory(slug="rower"))
    with pytest.raises(CatalogueError, match="different kinds"):
        merge_model(model=MachineModelFactory(), into=rower)


def test_merging_makers_that_share_a_serial_is_refused_and_moves_nothing():
    stays = MachineModelFactory()
    old = MachineModelFactory(maker=MakerFactory(name="Corvan"))
    UnitFactory(model=stays, serial="CV1")
    units = [UnitFactory(model=old, serial="CV1"), UnitFactory(model=old, serial="CV2")]
    with pytest.raises(CatalogueError, match="Serial number CV1"):
        merge_model(model=old, into=stays)
    assert set(Unit.objects.filter(model=old)) == set(units)
