import pytest

from shop.lots.selectors import offer_page, offer_rows
from shop.lots.services import OfferedLine, add_offer
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db


def offer(title, offered_on=TODAY, lines=()):
    return add_offer(
        seller=CustomerFactory(),
        title=title,
        asked=None,
        offered_on=offered_on,
        remove_by=None,
        lines=lines or [OfferedLine("bike")],
        by=PersonFactory(),
        at=MORNING,
    )


def test_offers_stand_newest_first():
    offer("older", TODAY.replace(day=1))
    offer("newer")
    assert [row.title for row in offer_rows()] == ["newer", "older"]


def test_an_offer_is_read_with_its_lines_in_two_queries(django_assert_max_num_queries):
    model = MachineModelFactory()
    offer("list", lines=[OfferedLine("tm", model), OfferedLine("bike", model)])
    with django_assert_max_num_queries(2):
        (page,) = offer_page()
        assert [str(line.model) for line in page.lines.all()] == [str(model)] * 2
