from dataclasses import replace

import pytest
from django.db import transaction

from parts.answers.models import Answer
from parts.fits.models import Fit, Part
from parts.stock.models import StockMove
from shop.floor.models import Stay
from shop.front.demo import database
from shop.front.filling.fill import fill, require_unused
from shop.front.filling.plan import FillingRefusedError
from tests.factories.units import MachineModelFactory, UnitFactory
from units.catalogue.models import MachineModel, Unit

pytestmark = pytest.mark.django_db


def test_as_many_rows_are_made_as_were_asked_for(filled):
    counts = [model.objects.count() for model in (MachineModel, Part, Answer, StockMove)]
    assert counts == [48, 200, 300, 400]
    assert (Unit.objects.count(), Stay.objects.ours().here().count()) == (96, 10)


def test_every_part_fits_a_model_that_has_its_component(filled):
    for fit in Fit.objects.select_related("model__kind", "part"):
        assert fit.model.kind.components.filter(component=fit.part.component_id).exists()


def made(plan) -> list[tuple]:
    """What a plan makes; undone again."""
    with transaction.atomic():
        fill(plan)
        answers = Answer.objects.order_by("pk")
        moves = StockMove.objects.order_by("pk")
        rows = [
            *answers.values_list("status", "given_on", "cost", "party", "part__number"),
            *moves.values_list("part__number", "quantity", "cost", "moved_on"),
        ]
        transaction.set_rollback(True)
    return rows


def test_one_seed_makes_the_same_rows_and_another_makes_others(plan):
    first = made(plan)
    assert len(first) == 700
    assert made(plan) == first
    assert made(replace(plan, seed=2)) != first


def test_a_database_with_a_machine_is_left_alone():
    UnitFactory()
    with pytest.raises(FillingRefusedError, match="holds machines already"):
        require_unused()


def test_a_database_with_a_model_is_left_alone():
    MachineModelFactory()
    with pytest.raises(FillingRefusedError):
        require_unused()


def test_the_demos_database_is_left_alone():
    database.mark()
    with pytest.raises(FillingRefusedError):
        require_unused()


def test_a_production_set_up_is_left_alone(settings):
    settings.PRODUCTION = True
    with pytest.raises(FillingRefusedError, match="production"):
        require_unused()


def test_what_is_filled_is_not_filled_again(filled):
    with pytest.raises(FillingRefusedError):
        fill(filled)
    assert MachineModel.objects.count() == 48
