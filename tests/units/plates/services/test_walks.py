import pytest

from tests.factories.units import MORNING, PersonFactory
from units.plates.models import PlateWalk
from units.plates.services import PlateError, open_walk

pytestmark = pytest.mark.django_db


def start(place):
    return open_walk(place=place, by=PersonFactory(), at=MORNING)


def test_walk_is_known_by_its_place():
    walk = start("  the gym  by the river ")
    assert (str(walk), walk.opened_at) == ("the gym by the river", MORNING)


@pytest.mark.parametrize(
    ("place", "sentence"), [("  ", "Say where"), ("x" * 121, "at most 120 characters")]
)
def test_place_that_does_not_do_is_refused(place, sentence):
    with pytest.raises(PlateError, match=sentence):
        start(place)
    assert not PlateWalk.objects.exists()
