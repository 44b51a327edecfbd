import pytest

from parts.fits.selectors import sisters_of
from parts.fits.services import withdraw_sister
from tests.factories.parts import SisterFactory
from tests.factories.units import MORNING, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db


def test_a_pair_reads_from_both_sides():
    link = SisterFactory()
    assert [(row.link, row.other) for row in sisters_of(link.model)] == [(link, link.other)]
    assert [row.other for row in sisters_of(link.other)] == [link.model]


def test_a_pair_told_under_a_merged_name_belongs_to_the_model():
    link = SisterFactory()
    current = MachineModelFactory()
    link.model.merged_into = current
    link.model.save()
    assert [row.other for row in sisters_of(current)] == [link.other]


def test_the_standing_come_before_the_withdrawn():
    model = MachineModelFactory()
    gone, stands = SisterFactory(model=model), SisterFactory(model=model)
    withdraw_sister(sister=gone, reason="other frame", by=PersonFactory(), at=MORNING)
    assert [row.link for row in sisters_of(model)] == [stands, gone]
