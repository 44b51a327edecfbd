"""The search box finds parts, and the paper of every number series."""

from decimal import Decimal
from uuid import uuid4

import pytest
from django.urls import reverse
from django.utils import timezone

from parts.buying.services import (
    ArrivedLine,
    OrderedLine,
    add_offer,
    order_exchange,
    order_parts,
    receive_order,
    return_to_supplier,
)
from parts.stock.services import (
    count_stock,
    find_or_add_bin,
    scrap_stock,
    strip_donor,
    transfer_stock,
)
from shop.floor.models import MachineCost
from tests.factories.parts import PartFactory
from tests.factories.units import PersonFactory, UnitFactory
from tests.shop.front.ground import invoice, our_machine

pytestmark = pytest.mark.django_db


@pytest.fixture
def part():
    return PartFactory(number="CO-2001", key="CO2001", name="running belt 3000 x 510")


def find(client, text):
    return client.get(reverse("search"), {"q": text})


def act(**more):
    return {"by": PersonFactory(), "at": timezone.now()} | more


def today():
    return timezone.localdate()


@pytest.fixture
def order(part):
    lines = [OrderedLine(part, Decimal(3), Decimal(60))]
    return order_parts(supplier="Holmgate depot", lines=lines, on=today(), **act(key=uuid4()))


@pytest.fixture
def receipt(order):
    lines = [ArrivedLine(order.lines.get(), "A1", Decimal(2), Decimal(60))]
    return receive_order(
        order=order, lines=lines, reference="HD 4711/9", on=today(), **act(key=uuid4())
    )


@pytest.mark.parametrize("text", ["CO-2001", "co 2001"])
def test_a_whole_part_number_opens_the_part(sit, part, text):
    assert find(sit("technician"), text).url == part.get_absolute_url()


@pytest.mark.parametrize("text", ["2001", "running belt"])
def test_some_digits_or_the_name_find_the_part(sit, part, text):
    response = find(sit("accountant"), text)
    assert response.context["found"].parts == [part]
    assert part.get_absolute_url() in response.text


def test_a_suppliers_own_number_opens_its_part(sit):
    part = PartFactory(maker=None, number="6203-2RS", key="62032RS")
    assert find(sit("technician"), "6203 2rs").url == part.get_absolute_url()


@pytest.mark.parametrize("text", ["{}", "o1", "O-1"])
def test_an_orders_number_opens_the_order_also_without_its_noughts(sit, order, text):
    assert find(sit("technician"), text.format(order.number)).url == order.get_absolute_url()


@pytest.mark.parametrize("text", ["D00001", "HD 4711/9", "hd 4711/9"])
def test_a_delivery_is_found_by_its_number_and_by_the_suppliers_paper(sit, receipt, text):
    assert find(sit("technician"), text).url == receipt.get_absolute_url()


def test_a_return_opens_the_delivery_that_it_came_with(sit, receipt):
    back = return_to_supplier(
        receipt_line=receipt.lines.get(), quantity=Decimal(1), reason="wrong", note="", on=today(),
        **act(key=uuid4()),
    )  # fmt: skip
    assert find(sit("technician"), back.number).url == receipt.get_absolute_url()


def test_an_exchange_opens_its_page_or_the_list_for_who_may_only_look(sit, part):
    offer = add_offer(
        supplier="Aldermere rewinding", core_charge=Decimal(25), core_days=14, part=part,
        cost=Decimal(90), given_on=today(), given_by="Bram", channel="phone", **act(),
    )  # fmt: skip
    exchange = order_exchange(offer=offer, document="", on=today(), **act(key=uuid4()))
    assert find(sit("technician"), exchange.number).url == reverse(
        "exchange-step", args=[exchange.number]
    )
    assert find(sit("accountant"), exchange.number).url == reverse("exchange-list")


def test_counts_scrap_and_moves_open_the_parts_shelf(sit, receipt, part):
    a1, b1 = find_or_add_bin(name="A1"), find_or_add_bin(name="B1")
    moves = [
        count_stock(part=part, bin=a1, counted=Decimal(4), on=today(), note="", **act()),
        scrap_stock(
            part=part, bin=a1, quantity=Decimal(1), on=today(), note="torn", **act(key=uuid4())
        ),
        transfer_stock(
            part=part, bin=a1, to_bin=b1, quantity=Decimal(1), on=today(), **act(key=uuid4())
        ),
    ]
    assert [move.document[0] for move in moves] == ["C", "W", "T"]
    client, shelf = sit("technician"), reverse("stock-part", args=[part.pk])
    assert [find(client, move.document).url for move in moves] == [shelf] * 3


def test_a_purchase_opens_the_machine_that_was_bought(sit):
    stay = our_machine()
    MachineCost.objects.create(
        stay=stay, sort="purchase", amount=Decimal(80), spent_on=today(), document="B00007",
        key="purchase 7", recorded_at=timezone.now(), recorded_by=PersonFactory(),
    )  # fmt: skip
    assert find(sit("technician"), "b7").url == reverse("machine", args=[stay.unit_id])


def test_a_payment_opens_its_invoice_for_those_who_may_see_it(sit):
    bill = invoice(paid="50")
    number = bill.payments.get().number
    assert find(sit("accountant"), number).url == reverse("invoice", args=[bill.number])
    assert find(sit("technician"), number).context["found"].documents == []


def test_a_donor_is_found_by_its_serial(sit):
    unit = UnitFactory(serial="DN000001")
    donor = strip_donor(
        unit=unit, lines=[], cost=Decimal(0), on=today(), document="B00001", **act()
    )
    page = find(sit("technician"), "DN0000").text
    assert donor.get_absolute_url() in page


@pytest.mark.parametrize("text", ["O99999", "Z00001", "O00001X", "O" + "9" * 40])
def test_a_number_that_no_paper_bears_finds_none(sit, order, text):
    assert find(sit("owner"), text).context["found"].documents == []


def test_the_search_asks_at_most_12_queries(sit, receipt, django_assert_max_num_queries):
    client = sit("owner")
    for text in (receipt.number, "HD 4711/9", "belt"):
        with django_assert_max_num_queries(12):
            find(client, text)
