import pytest
from django.db import IntegrityError, transaction

from parts.fits.models import Sister
from parts.fits.services import PartError, link_sisters, withdraw_sister
from tests.factories.parts import SisterFactory
from tests.factories.units import (
    MORNING,
    ComponentFactory,
    KindFactory,
    MachineModelFactory,
    PersonFactory,
)
from units.catalogue.models import KindComponent

pytestmark = pytest.mark.django_db


def link(model, other, components=None, evidence="same parts list"):
    said = {"components": components, "evidence": evidence}
    return link_sisters(model=model, other=other, **said, by=PersonFactory(), at=MORNING)


def component_of(slug, *models):
    component = ComponentFactory(slug=slug, name=slug)
    for kind in {model.kind_id: model.kind for model in models}.values():
        KindComponent.objects.get_or_create(
            kind=kind, component=component, defaults={"position": 1}
        )
    return component


@pytest.fixture
def pair():
    return MachineModelFactory(), MachineModelFactory()


def test_two_models_share_everything_whichever_is_named_first(pair):
    (sister,) = link(pair[1], pair[0])
    assert (sister.model, sister.other, sister.component) == (*pair, None)
    with pytest.raises(PartError, match="already") as refusal:
        link(*pair)
    assert refusal.value.field == "other"


def test_two_models_share_some_components_and_what_is_told_already_stays_once(pair):
    deck, belt = component_of("deck", *pair), component_of("belt", *pair)
    link(*pair, [deck])
    fresh = link(*pair, [deck, belt], evidence="compared side by side")
    assert [one.component for one in fresh] == [belt]
    assert Sister.objects.count() == 2


def test_models_that_share_everything_need_no_component_told(pair):
    link(*pair)
    with pytest.raises(PartError, match="already"):
        link(*pair, [component_of("deck", *pair)])


def test_a_model_merged_away_stands_for_the_one_it_became():
    current, other = MachineModelFactory(), MachineModelFactory()
    old = MachineModelFactory(merged_into=current)
    (sister,) = link(old, other)
    assert {sister.model, sister.other} == {current, other}


def test_a_model_is_no_sister_of_itself_under_any_name(pair):
    old = MachineModelFactory(merged_into=pair[0])
    for one in (pair[0], old):
        with pytest.raises(PartError, match="Choose another one") as refusal:
            link(pair[0], one)
        assert refusal.value.field == "other"


def test_two_kinds_of_machine_share_only_components_that_both_have(pair):
    bike = MachineModelFactory(kind=KindFactory(slug="bike", name="bike"))
    with pytest.raises(PartError, match="two kinds") as refusal:
        link(pair[0], bike)
    assert refusal.value.field == "components"
    with pytest.raises(PartError, match="has no deck"):
        link(pair[0], bike, [component_of("deck", pair[0])])
    assert link(pair[0], bike, [component_of("display", pair[0], bike)])


def test_no_evidence_is_refused_at_its_field(pair):
    with pytest.raises(PartError) as refusal:
        link(*pair, evidence=" ")
    assert refusal.value.field == "evidence"
    assert not Sister.objects.exists()


def test_a_withdrawn_pair_may_be_told_again(pair):
    (sister,) = link(*pair)
    gone = withdraw_sister(sister=sister, reason="other frame", by=PersonFactory(), at=MORNING)
    assert gone.withdrawn_because == "other frame"
    assert link(*pair)[0].pk != sister.pk


def test_the_database_itself_keeps_a_pair_once_and_in_order():
    sister = SisterFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        SisterFactory(model=sister.model, other=sister.other)
    with pytest.raises(IntegrityError), transaction.atomic():
        SisterFactory(model=sister.other, other=sister.model)


def test_the_database_itself_keeps_a_pair_as_it_was_told():
    sister = SisterFactory()
    with pytest.raises(IntegrityError), transaction.atomic():
        Sister.objects.filter(pk=sister.pk).update(component=ComponentFactory())
