from datetime import timedelta

import pytest
from django.urls import reverse

from shop.lots.services import OfferedLine, add_offer
from tests.factories.shop import CustomerFactory, ShopProfileFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk(client):
    """The owner, signed in."""
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def offer(*lines, title="Closing sale", seller="Millrace Athletic", remove_by=None):
    return add_offer(
        seller=CustomerFactory(name=seller),
        title=title,
        asked=None,
        offered_on=TODAY,
        remove_by=remove_by,
        lines=lines or [OfferedLine("bike")],
        by=PersonFactory(),
        at=MORNING,
    )


def test_the_list_counts_the_machines_of_an_offer(desk):
    offer(OfferedLine("tm", count=40), OfferedLine("bike", count=6))
    (row,) = desk.get(reverse("offer-list")).context["offers"]
    assert row.machines == 46


@pytest.mark.parametrize("text", ["closing", "millrace"])
def test_the_list_is_searched_by_title_and_seller(desk, text):
    offer()
    offer(title="One treadmill", seller="Ada Marsh")
    rows = desk.get(reverse("offer-list"), {"text": text}).context["offers"]
    assert [row.title for row in rows] == ["Closing sale"]


def test_the_list_shows_what_must_be_removed_by_a_day(desk):
    offer(remove_by=TODAY + timedelta(days=3))
    offer(title="Later", remove_by=TODAY + timedelta(days=9))
    due = (TODAY + timedelta(days=5)).isoformat()
    rows = desk.get(reverse("offer-list"), {"due": due}).context["offers"]
    assert [row.title for row in rows] == ["Closing sale"]


def test_an_offer_shows_its_lines_as_written_and_the_model(desk):
    model = MachineModelFactory(number="TR-900")
    page = desk.get(reverse("offer", args=[offer(OfferedLine("corvane tm", model)).pk])).text
    assert "corvane tm" in page
    assert "Corvane TR-900" in page
    assert "asks for our price" in page


def test_a_line_nobody_knows_says_so(desk):
    assert "not known yet" in desk.get(reverse("offer", args=[offer().pk])).text


def test_a_model_that_was_merged_shows_the_one_it_went_into(desk):
    into = MachineModelFactory(number="TR-900")
    model = MachineModelFactory(number="TR 900 S", merged_into=into)
    page = desk.get(reverse("offer", args=[offer(OfferedLine("tm", model)).pk])).text
    assert "Corvane TR-900" in page
    assert "TR 900 S" not in page


def test_pages_need_no_more_queries_for_more_lines(desk, django_assert_max_num_queries):
    for number in range(5):
        model = MachineModelFactory(number=f"A{number}")
        last = offer(*[OfferedLine("tm", model) for _ in range(8)])
    with django_assert_max_num_queries(12):
        desk.get(reverse("offer-list"))
    with django_assert_max_num_queries(12):
        desk.get(reverse("offer", args=[last.pk]))


def test_the_counter_sees_no_offers(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    assert client.get(reverse("offer-list")).status_code == 403
