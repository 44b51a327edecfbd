from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.fits.models import Fit, Part
from parts.fits.services import PartError, add_fit, add_part, find_or_add_part
from tests.factories.parts import PartFactory
from tests.factories.units import (
    MORNING,
    ComponentFactory,
    MachineModelFactory,
    MakerFactory,
    PersonFactory,
)

pytestmark = pytest.mark.django_db


def new(**changes):
    said = {"maker": MakerFactory(), "number": "CV-7", "name": "deck", "component": None}
    said |= changes
    return add_part(**said | {"component": ComponentFactory(slug="deck")})


def fit(part, model, **changes):
    said = {"quantity": Decimal(1), "evidence": "maker's parts list"} | changes
    return add_fit(part=part, model=model, **said, by=PersonFactory(), at=MORNING)


def test_a_part_is_found_by_its_letters_and_digits_alone():
    assert new(number=" cv-7 / b ").key == "CV7B"


def test_a_number_that_its_maker_gave_already_is_refused():
    new()
    with pytest.raises(PartError, match="here already") as refusal:
        new(number="CV 7")
    assert refusal.value.field == "number"
    assert Part.objects.count() == 1


def test_two_makers_may_give_the_same_number():
    new()
    assert new(maker=MakerFactory(name="Holmgate")).number == "CV-7"


def test_a_part_of_no_maker_is_one_too_and_met_once():
    new(maker=None)
    with pytest.raises(PartError, match="here already"):
        new(maker=None)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"number": " - "}, "number"), ({"name": "  "}, "name"), ({"number": "ﷺ" * 60}, "number")],
)
def test_a_part_without_number_or_name_is_refused_at_its_field(wrong, field):
    with pytest.raises(PartError) as refusal:
        new(**wrong)
    assert refusal.value.field == field


def test_a_part_met_before_is_found_as_it_stands():
    part = new()
    found = find_or_add_part(maker=part.maker, number="cv7", name="", component=part.component)
    assert (found, found.name) == (part, "deck")


def test_a_fit_keeps_how_we_know():
    made = fit(PartFactory(), MachineModelFactory(), evidence=" tried  on ", position=" left  side")
    assert (made.evidence, made.position) == ("tried on", "left side")
    assert made.quantity == Decimal(1)


@pytest.mark.parametrize(
    ("wrong", "field"), [({"evidence": " "}, "evidence"), ({"quantity": Decimal(0)}, "quantity")]
)
def test_a_fit_without_evidence_or_quantity_is_refused_at_its_field(wrong, field):
    with pytest.raises(PartError) as refusal:
        fit(PartFactory(), MachineModelFactory(), **wrong)
    assert refusal.value.field == field
    assert not Fit.objects.exists()


def test_a_fit_said_twice_is_refused_with_how_it_was_known():
    part, model = PartFactory(), MachineModelFactory()
    fit(part, model)
    with pytest.raises(PartError, match="maker's parts list"):
        fit(part, model, evidence="tried on")


def test_a_fit_of_a_merged_name_belongs_to_the_model_it_was_merged_into():
    current = MachineModelFactory()
    assert fit(PartFactory(), MachineModelFactory(merged_into=current)).model == current


@pytest.mark.parametrize("maker", ["Corvane", None])
def test_the_database_itself_keeps_a_number_once(maker):
    part = PartFactory(maker=maker and MakerFactory(name=maker))
    with pytest.raises(IntegrityError), transaction.atomic():
        PartFactory(maker=part.maker, number=part.number)
