import pytest

from parts.stock.selectors import (
    DonorHeld,
    cost_left_on,
    donor_components,
    donors,
    strip_list,
    with_pieces,
)
from tests.factories.units import MachineModelFactory
from tests.parts.stock.stripping import leave, machine, scrap, strip, take

pytestmark = pytest.mark.django_db


def test_a_model_has_what_its_donors_still_hold():
    unit = machine(serial="HG-777", serial_key="HG777")
    donor = strip(take(), leave(), scrap(), unit=unit)
    other = MachineModelFactory()
    assert donor_components([unit.model, other]) == {
        unit.model_id: {"deck": [DonorHeld(donor.pk, unit.pk, "HG-777", "good", "deck")]},
        other.pk: {},
    }


def test_the_best_piece_comes_first_and_a_spent_one_not_at_all():
    model = MachineModelFactory()
    for grade in ("worn", "new", "spent"):
        strip(leave(grade=grade), unit=machine(model=model))
    (pieces,) = donor_components([model])[model.pk].values()
    assert [piece.grade for piece in pieces] == ["new", "worn"]


def test_only_the_components_asked_for_are_given():
    unit = machine()
    strip(leave(), leave("lift-motor"), unit=unit)
    assert list(donor_components([unit.model], ["lift-motor"])[unit.model_id]) == ["lift-motor"]


def test_a_model_that_was_merged_gives_its_donors_to_the_model_behind_it():
    current = MachineModelFactory()
    unit = machine(model=MachineModelFactory(merged_into=current))
    strip(leave(), unit=unit)
    assert list(donor_components([current])[current.pk]) == ["deck"]


def test_many_models_with_many_donors_need_one_query(django_assert_num_queries):
    models = [MachineModelFactory() for _ in range(4)]
    for model in models:
        strip(leave(), unit=machine(model=model))
    with django_assert_num_queries(1):
        assert all(donor_components(models).values())


def test_the_list_of_donors_counts_what_is_still_held():
    donor = strip(take(), leave(), leave("lift-motor"))
    (row,) = donors()
    assert (row, row.held, row.held_cost) == (donor, 2, cost_left_on(donor))


def test_a_donors_page_needs_two_queries(django_assert_num_queries):
    donor = strip(take(), leave(), scrap())
    with django_assert_num_queries(2):
        found = with_pieces(donors()).get(pk=donor.pk)
        assert [str(piece.component) for piece in found.listed]


def test_the_strip_list_names_the_components_of_the_kind_in_their_order():
    unit = machine()
    assert [row.component_id for row in strip_list(unit)] == [
        "drive-motor",
        "deck",
        "running-belt",
        "lift-motor",
    ]
