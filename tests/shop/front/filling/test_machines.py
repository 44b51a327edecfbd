from shop.front.filling.plan import MAKERS
from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel, Maker, Unit


def test_every_kind_and_maker_has_models(filled):
    assert MachineModel.objects.values("kind").distinct().count() == 8
    assert set(Maker.objects.values_list("name", flat=True)) == set(MAKERS)


def test_keys_are_those_by_which_the_catalogue_finds_them(filled):
    assert all(model.key == match_key(model.number) for model in MachineModel.objects.all())
    assert all(unit.serial_key == match_key(unit.serial) for unit in Unit.objects.all())
