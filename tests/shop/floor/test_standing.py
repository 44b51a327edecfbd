"""Where machines stand: spots, moves, and the page that the code on a tag opens."""

import uuid
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from shop.floor.models import Move, Spot
from shop.floor.selectors import spots_with_machines, worth_of_model, worths
from shop.floor.services import FloorError, add_spot, close_spot, end_stay, move_machine, note_year
from tests.factories.resale import OwnStayFactory
from tests.factories.shop import ShopProfileFactory, StayFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    MachineModelFactory,
    PersonFactory,
    UnitFactory,
)

pytestmark = pytest.mark.django_db


def bay(name="Bay 3", sort="bay"):
    return add_spot(name=name, sort=sort)


def move(stay, spot, key=None):
    said = {"key": key or uuid.uuid4(), "by": PersonFactory(), "at": MORNING}
    return move_machine(stay=stay, spot=spot, **said)


def test_a_move_says_where_it_stands_and_stays_in_the_ledger():
    stay, third, truck = StayFactory(), bay(), bay("White truck", "truck")
    move(stay, third)
    move(stay, truck)
    stay.refresh_from_db()
    assert stay.stands_at == "White truck"
    assert [one.spot for one in stay.moves.order_by("pk")] == [third, truck]
    with pytest.raises(IntegrityError), transaction.atomic():
        Move.objects.update(spot=third)


def test_a_double_tap_moves_once_and_standing_there_already_needs_no_move():
    stay, spot, key = StayFactory(), bay(), uuid.uuid4()
    assert move(stay, spot, key) == move(stay, spot, key)
    assert move(stay, spot) is None
    assert Move.objects.count() == 1


def test_what_has_left_is_not_moved():
    stay = StayFactory()
    end_stay(stay=stay, left="returned", on=TODAY, document="J00001", by=PersonFactory())
    with pytest.raises(FloorError, match="left on 5 Oct 2026"):
        move(stay, bay())


def test_a_spot_is_closed_once_nothing_stands_there_and_opened_by_its_name():
    stay, spot = StayFactory(), bay()
    move(stay, spot)
    with pytest.raises(FloorError, match="1 machine stands there"):
        close_spot(spot=spot)
    move(stay, bay("Bay 4"))
    close_spot(spot=spot)
    with pytest.raises(FloorError, match="no longer in use"):
        move(stay, Spot.objects.get(pk=spot.pk))
    assert bay(" bay  3 ") == spot
    assert Spot.objects.get(pk=spot.pk).in_use


def test_a_spot_has_a_name():
    with pytest.raises(FloorError, match="the name that is written there"):
        bay("  ")


@pytest.mark.parametrize("year", [1959, 2027])
def test_a_year_that_cannot_be_is_refused(year):
    with pytest.raises(FloorError, match="between 1960 and 2026"):
        note_year(stay=OwnStayFactory(), made_in=year, today=TODAY)


def test_spots_count_what_stands_there_in_one_query(django_assert_num_queries):
    spot, empty = bay(), bay("Bay 4")
    for _ in range(3):
        move(StayFactory(), spot)
    with django_assert_num_queries(1):
        assert [(one, one.standing) for one in spots_with_machines()] == [(spot, 3), (empty, None)]


@pytest.fixture
def sit(client):
    def down(*seats):
        ShopProfileFactory()
        client.force_login(PersonFactory(seats=seats))
        return client

    return down


def test_a_tap_on_the_scanned_page_moves_the_machine(sit):
    stay, spot = StayFactory(), bay()
    client, address = sit("technician"), reverse("stand", args=[stay.pk])
    tap = reverse("stand-move", args=[stay.pk])
    assert "Nobody has written down where it stands" in client.get(address).text
    answer = client.post(tap, {"spot": spot.pk, "key": uuid.uuid4()}, follow=True)
    assert "It stands at Bay 3." in answer.text


def test_a_wrong_tap_says_so_and_moves_nothing(sit):
    stay = StayFactory()
    answer = sit("technician").post(reverse("stand-move", args=[stay.pk]), {"key": uuid.uuid4()})
    assert answer.status_code == 422
    assert "Tap the spot where it stands now" in answer.text
    assert not Move.objects.exists()


def test_an_accountant_sees_where_it_stands_and_moves_nothing(sit):
    stay, client = StayFactory(), sit("accountant")
    bay()
    address = reverse("stand", args=[stay.pk])
    assert '<button name="spot"' not in client.get(address).text
    assert client.post(reverse("stand-move", args=[stay.pk]), {}).status_code == 403


def test_the_page_needs_no_more_queries_for_more_moves(sit, django_assert_max_num_queries):
    stay, client = StayFactory(), sit("technician")
    for number in range(5):
        move(stay, bay(f"Bay {number}"))
    with django_assert_max_num_queries(12):
        client.get(reverse("stand", args=[stay.pk]))


def test_the_code_of_a_tag_is_a_picture(sit):
    answer = sit("owner").get(reverse("stand-code", args=[StayFactory().pk]))
    assert answer["Content-Type"] == "image/svg+xml"
    assert answer.content.startswith(b"<?xml")


def test_the_owner_adds_and_closes_spots(sit):
    client = sit("owner")
    client.post(reverse("spot-add"), {"name": "Bay 3", "sort": "bay"})
    spot = Spot.objects.get()
    assert "Bay 3" in client.get(reverse("spot-list")).text
    client.post(reverse("spot-close", args=[spot.pk]))
    assert not Spot.objects.get().in_use


def sold(model, price, left="sold"):
    stay = OwnStayFactory(unit=UnitFactory(model=model))
    said = {"left": left, "on": TODAY, "document": "R1", "by": PersonFactory()}
    return end_stay(stay=stay, fetched=Decimal(price), **said)


def test_what_like_machines_fetched_is_read_from_stays_in_one_query(django_assert_num_queries):
    mine = MachineModelFactory(kind__slug="treadmill", grade="light")
    other = MachineModelFactory(kind=mine.kind, grade="light")
    home = MachineModelFactory(kind=mine.kind, grade="residential")
    for _ in range(40):
        sold(mine, "700")
    sold(other, "650")
    sold(home, "100")
    sold(mine, "50", left="for-parts")
    stays = [OwnStayFactory(unit=UnitFactory(model=mine)) for _ in range(3)]
    with django_assert_num_queries(1):
        found = worths(stays, TODAY)
    assert {(one.of_model, one.of_kind) for one in found.values()} == {(40, 41)}
    assert 690 < found[stays[0].pk].middle < 715
    assert worth_of_model(mine, TODAY) == found[stays[0].pk]
    assert worth_of_model(mine, TODAY, 2026).middle > worth_of_model(mine, TODAY, 2016).middle
