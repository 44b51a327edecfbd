from django.urls import reverse

from shop.front.navigation import ENTRIES, entries_for, room_of
from shop.people.seats import SEATS


def names(*seats) -> list[str]:
    return [name for name, address, label in entries_for(seats)]


def test_every_room_has_an_address():
    assert all(reverse(name) for name, label in ENTRIES)


def test_all_seats_together_see_every_room_in_order():
    assert names(*SEATS) == [name for name, label in ENTRIES]


def test_a_seat_sees_only_the_rooms_that_it_may_enter():
    assert "period-list" not in names("technician")
    assert "intake" not in names("accountant")
    assert "period-list" in names("accountant")


def test_nobody_sees_no_room():
    assert names() == []


def test_a_page_lies_in_the_room_whose_address_its_own_begins_with():
    rooms = entries_for(["owner"])
    assert room_of("/jobs/J00001/", rooms) == reverse("job-list")
    assert room_of("/jobs/log-in/", rooms) == reverse("intake")
    assert room_of("/receipts/", rooms) == reverse("home")


def test_nobody_is_in_no_room():
    assert room_of("/jobs/", []) == ""
