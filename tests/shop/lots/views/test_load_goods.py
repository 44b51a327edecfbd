"""The load-out page counts goods without serials."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.lots.models import GoodsFound, Lot
from tests.factories.shop import ShopProfileFactory
from tests.factories.units import PersonFactory
from tests.shop.lots.valuing.building import goods, lot, treadmill, valued, walked

pytestmark = pytest.mark.django_db


@pytest.fixture
def loader(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["technician"]))
    return client


def an_agreed_lot(lines=1):
    made = lot({"model": treadmill()}, *[goods() for _one in range(lines)])
    walked(made.lines.get(sort="machine"), 1)
    valued(made)
    Lot.objects.filter(pk=made.pk).update(state="agreed", agreed=Decimal("1000.00"))
    return Lot.objects.get(pk=made.pk)


def send(client, made, **said):
    line = made.lines.filter(sort="goods").first()
    form = {f"{name}-{line.pk}": value for name, value in said.items()}
    return client.post(reverse("lot-load-goods", args=[made.pk]), form, follow=True)


def test_whoever_loads_writes_what_was_found(loader):
    made = an_agreed_lot()
    page = loader.get(reverse("lot-load", args=[made.pk])).text
    assert "1 line of goods is still to be counted." in page
    page = send(loader, made, found="600", adjusted="").text
    assert "The goods are counted." in page
    assert "0 lines of goods are still to be counted." in page
    seen = GoodsFound.objects.get()
    assert (seen.found, seen.state) == (600, "short")
    assert f"{seen.adjusted} off" in page


def test_sent_twice_it_stands_as_sent_once(loader):
    made = an_agreed_lot()
    for _press in range(2):
        send(loader, made, found="600", adjusted="12.50")
    assert GoodsFound.objects.get().adjusted == Decimal("12.50")


def test_left_empty_a_line_waits(loader):
    made = an_agreed_lot(lines=2)
    send(loader, made, found="0")
    assert GoodsFound.objects.count() == 1


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({"found": "1.2345"}, "no more than 3 decimal places"),
        ({"found": "many"}, "Enter a number"),
        ({"found": "", "adjusted": "5"}, "Write how much was found"),
        ({"found": "900", "adjusted": "5"}, "Nothing of it is short"),
        ({"found": "1", "adjusted": "1000.01"}, "More would come off"),
    ],
)
def test_bad_input_is_told_at_its_field_and_kept(loader, said, told):
    answer = send(loader, an_agreed_lot(), **said)
    assert answer.status_code == 422
    assert any(told in " ".join(said) for said in answer.context["form"].errors.values())
    assert told in answer.text
    assert not GoodsFound.objects.exists()


def test_after_it_is_loaded_nothing_is_counted(loader):
    made = an_agreed_lot()
    send(loader, made, found="600")
    Lot.objects.filter(pk=made.pk).update(state="taken-in")
    assert "Keep the counts" not in loader.get(reverse("lot-load", args=[made.pk])).text
    assert send(loader, made, found="900").status_code == 422
    assert GoodsFound.objects.get().found == 600


def test_a_scan_page_tells_the_machine_s_part_of_the_price(loader):
    made = an_agreed_lot()
    machine = made.lines.get(sort="machine").machines.get()
    page = loader.get(reverse("lot-machine-load", args=[made.pk, machine.pk])).text
    assert "its part of the agreed price is" in page


def test_many_lines_need_no_more_queries(loader, django_assert_max_num_queries):
    made = an_agreed_lot(lines=8)
    send(loader, made, found="600")
    with django_assert_max_num_queries(12):
        loader.get(reverse("lot-load", args=[made.pk]))
