"""Goods without serials: on their pages, and sold with an invoice and their cost."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.books.domain.months import Month
from shop.books.models import JournalLine
from shop.books.selectors.figures import figures_of
from shop.books.services import post_pending, posting_rules
from shop.floor.models import Goods, GoodsOut
from shop.floor.services import Heap, add_spot, shelve_goods
from shop.resale.services import Bargain, Paid, ResaleError, sell_goods
from shop.till.models import Invoice
from tests.factories.books import load_accounts
from tests.factories.shop import CustomerFactory, ShopProfileFactory, TaxRateFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


@pytest.fixture
def plates():
    heap = Heap("weight plates", "lb", Decimal(900), Decimal("100.00"), Decimal("9.99"))
    said = {"document": "B00001", "seller": CustomerFactory(), "key": "plates"}
    return shelve_goods(heap=heap, on=TODAY, by=PersonFactory(), at=MORNING, **said)


def sell(goods, quantity="300", price="0.85", **changes):
    said = {"customer": CustomerFactory(name="Ada Marsh"), "paid": Paid("cash"), "on": TODAY}
    said |= {"key": uuid.uuid4(), "by": PersonFactory(), "at": MORNING} | changes
    return sell_goods(goods=goods, bargain=Bargain(Decimal(quantity), Decimal(price)), **said)


def test_some_goods_are_sold_with_tax_and_leave_at_their_cost(plates):
    """300 lb at 0.85 are 255.00; at 6.875 % the tax is 17.53; a third of 100 is 33.33."""
    TaxRateFactory(line_class="goods", percent="6.875")
    out = sell(plates)
    invoice = Invoice.objects.get(number=out.document)
    assert (invoice.net, invoice.tax, out.cost) == (
        Decimal("255.00"), Decimal("17.53"), Decimal("33.33"),
    )  # fmt: skip
    assert invoice.payments.get().amount == invoice.total
    assert Goods.objects.with_rest().get().left == 600


def test_the_same_key_sells_once(plates):
    assert sell(plates, key=KEY) == sell(plates, key=KEY)
    assert (Invoice.objects.count(), GoodsOut.objects.count()) == (1, 1)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"quantity": "900.001"}, "quantity"),
        ({"price": "0"}, "price"),
        ({"on": TODAY + timedelta(days=1)}, "on"),
        ({"on": TODAY - timedelta(days=1)}, "on"),
    ],
)
def test_a_sale_that_cannot_be_is_refused_at_its_field_and_nothing_is_billed(
    plates, changes, field
):
    with pytest.raises(ResaleError) as refused:
        sell(plates, **changes)
    assert (refused.value.field, Invoice.objects.count()) == (field, 0)


def test_a_sale_of_goods_is_posted_with_its_cost_and_ties_out(plates):
    load_accounts()
    sell(plates)
    month = Month.of(TODAY)
    post_pending(through=month.last, by=None, at=MORNING)
    assert figures_of(month, posting_rules()).hold
    lines = dict(JournalLine.objects.filter(amount__lt=0).values_list("account", "amount"))
    assert lines["4310"] == Decimal("-255.00")
    assert JournalLine.objects.get(account="5210").amount == Decimal("33.33")


@pytest.fixture
def desk(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def post(client, name, *args, **said):
    return client.post(reverse(name, args=args), said, follow=True)


def today():
    return timezone.localdate().isoformat()


def test_the_shelf_of_goods_needs_few_queries(desk, plates, django_assert_max_num_queries):
    with django_assert_max_num_queries(12):
        page = desk.get(reverse("goods-list")).text
    assert "weight plates" in page
    assert "900 lb" in page
    sell(plates, "900")
    assert "Nothing of the kind" in desk.get(reverse("goods-list")).text
    assert "weight plates" in desk.get(reverse("goods-list"), {"all": "yes"}).text


def test_goods_are_put_somewhere_and_some_are_written_off_once(desk, plates):
    spot = add_spot(name="Back wall", sort="bay")
    assert "Back wall" in post(desk, "goods-put", plates.number, spot=spot.pk).text
    said = {"key": KEY, "on": today(), "quantity": "10", "note": "cracked"}
    assert "written off" in post(desk, "goods-lost", plates.number, **said).text
    assert "sent before" in post(desk, "goods-lost", plates.number, **said).text
    refused = post(desk, "goods-lost", plates.number, **said | {"key": uuid.uuid4(), "note": ""})
    assert (refused.status_code, GoodsOut.objects.count()) == (422, 1)


def test_goods_are_sold_on_their_page_to_somebody_new(desk, plates):
    said = {"key": KEY, "on": today(), "quantity": "300", "price": "0.85", "method": "cash"}
    searched = post(desk, "goods-sell", plates.number, who="Ada", find="yes", **said)
    assert (searched.status_code, Invoice.objects.count()) == (200, 0)
    refused = post(desk, "goods-sell", plates.number, new_name="Ada", **said | {"quantity": "901"})
    assert (refused.status_code, "Enter that much or less" in refused.text) == (422, True)
    page = post(desk, "goods-sell", plates.number, new_name="Ada Marsh", **said)
    assert "weight plates" in page.text
    assert Invoice.objects.get().document == plates.number
