from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from parts.answers.models import Answer
from parts.buying.models import PriceList
from parts.fits.models import Part
from tests.factories.parts import PartFactory, SupplierFactory, SupplierPriceFactory
from tests.factories.units import ComponentFactory, PersonFactory
from tests.parts.buying.sheets import BELT, DECK, HEADINGS, csv_list

pytestmark = pytest.mark.django_db


def asked(**changes):
    said = {"supplier": "Holmgate spares", "number": "CV-42", "maker": "", "cost": "8.5"}
    return said | {"lead_days": "4", "given_on": "2026-10-05"} | changes


def test_a_suppliers_price_is_written_down_and_shown(desk):
    PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("supplier-price-add"), asked(), follow=True).text
    for word in ("Holmgate spares", "CV-42", "8.5", "5 Oct 2026"):
        assert word in page


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"number": "XX-1"}, "Add the part first"),
        ({"cost": "-1"}, "greater than or equal to 0"),
        ({"given_on": "2999-01-01"}, "has not come yet"),
        ({"lead_days": "soon"}, "Enter a whole number."),
    ],
)
def test_a_wrong_price_gets_a_sentence_and_writes_nothing(desk, wrong, sentence):
    PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("supplier-price-add"), asked(**wrong))
    assert page.status_code == 422
    assert sentence in page.text
    assert not Answer.objects.exists()


def test_the_prices_narrow_by_part(desk):
    SupplierPriceFactory(part__number="CV-77", part__key="CV77")
    SupplierPriceFactory(part__number="CV-88", part__key="CV88")
    page = desk.get(reverse("supplier-price-list"), {"text": "cv77"}).text
    assert "CV-77" in page
    assert "CV-88" not in page


def test_the_prices_narrow_by_supplier(desk):
    SupplierPriceFactory(part__number="CV-77", party=SupplierFactory(name="Kestrow spares").name)
    SupplierPriceFactory(part__number="CV-88", party=SupplierFactory().name)
    supplier = SupplierFactory(name="Kestrow spares")
    page = desk.get(reverse("supplier-price-list"), {"supplier": supplier.pk}).text
    assert "CV-77" in page
    assert "CV-88" not in page


@pytest.fixture
def components():
    ComponentFactory(slug="running-belt", name="running belt")
    ComponentFactory(slug="deck", name="deck")


def send(client, upload, **changes):
    said = {"supplier": "Kestrow spares", "given_on": "2026-10-05", "file": upload}
    return client.post(reverse("supplier-list-add"), said | changes, follow=True)


def test_a_list_is_shown_before_anything_is_loaded(desk, components):
    page = send(desk, csv_list(BELT, DECK, ("CV-3", "thing", "", "dear", "", "")))
    for word in ("CV-100", "Deck, two-sided", "2 rows read well", "1 place is wrong", "D4"):
        assert word in page.text
    assert not Answer.objects.exists()
    assert not Part.objects.exists()


def test_a_point_among_comma_fractions_parts_thousands_and_the_preview_says_so(desk, components):
    belt, deck = (*BELT[:3], "62,50", 4, "yes"), (*DECK[:3], "1.118", 9, "yes")
    page = send(desk, csv_list(belt, deck))
    assert "“1.118” in D3 is read as 1,118, as its column is written." in page.text
    desk.post(page.redirect_chain[0][0])
    costs = Answer.objects.order_by("part__number").values_list("cost", flat=True)
    assert list(costs) == [Decimal("62.5"), Decimal(1118)]


def test_a_figure_that_nothing_explains_is_told_before_it_is_loaded(desk, components):
    page = send(desk, csv_list((*BELT[:3], "1.118", 4, "yes")))
    assert "“1.118” in D2 is read as 1.118; nothing else in its column tells" in page.text


def test_a_good_list_is_loaded_and_the_same_again_adds_nothing(desk, components):
    for new in (2, 0):
        address = send(desk, csv_list(BELT, DECK)).redirect_chain[0][0]
        done = desk.post(address, follow=True)
        assert f"2 rows were read: {new} prices and {new} parts are new" in done.text
    assert Answer.objects.count() == 2


def test_a_bad_row_is_left_out_only_by_choice(desk, components):
    bad = ("CV-3", "thing", "", "9", "", "")
    address = send(desk, csv_list(BELT, bad)).redirect_chain[0][0]
    refused = desk.post(address)
    assert (refused.status_code, "load only the good rows" in refused.text) == (422, True)
    assert not Answer.objects.exists()
    assert desk.post(address, {"only_good": "1"}, follow=True).status_code == 200
    assert Answer.objects.count() == 1


def test_other_columns_are_read_when_they_are_chosen(desk, components):
    headings = (*HEADINGS[:4], "Gross", "Stock")
    upload = csv_list((*BELT[:4], "99.00", "yes"), headings=headings)
    address = send(desk, upload).redirect_chain[0][0]
    assert "$99.00" in desk.get(address, {"cost": "4"}).text
    desk.post(address, {"cost": "4", "sheet": "0"})
    assert Answer.objects.get().cost == 99


def test_the_maker_of_the_whole_sheet_is_not_the_column_of_makers(desk, components):
    headings, row = HEADINGS[:2] + HEADINGS[3:], BELT[:2] + BELT[3:]
    address = send(desk, csv_list(row, headings=headings)).redirect_chain[0][0]
    assert "Holmgate" in desk.get(address, {"sheet_maker": "Holmgate"}).text
    desk.post(address, {"sheet_maker": "Holmgate", "maker": ""})
    assert Part.objects.get().maker.name == "Holmgate"


def test_a_missing_column_is_asked_for(desk, components):
    address = send(desk, csv_list(BELT)).redirect_chain[0][0]
    page = desk.get(address, {"cost": ""})
    assert "Say which column holds: Cost for one." in page.text
    assert desk.post(address, {"cost": ""}).status_code == 422


@pytest.mark.parametrize(
    "asked", [{"cost": "999"}, {"cost": "x"}, {"cost": "²"}, {"sheet": "77"}, {"sheet": "-1"}]
)
def test_nonsense_in_the_address_is_no_trouble(desk, components, asked):
    address = send(desk, csv_list(BELT)).redirect_chain[0][0]
    assert desk.get(address, asked).status_code == 200


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"file": SimpleUploadedFile("x.csv", b"")}, "This file is empty"),
        ({"file": SimpleUploadedFile("x.xlsx", b"PK no zip")}, "damaged or was cut off"),
        ({"file": ""}, "This field is required."),
        ({"given_on": "2999-01-01"}, "has not come yet"),
        ({"supplier": " "}, "This field is required."),
    ],
)
def test_a_list_that_cannot_be_kept_gets_a_sentence(desk, changes, sentence):
    page = send(desk, csv_list(BELT), **changes)
    assert (page.status_code, sentence in page.text) == (422, True)
    assert not PriceList.objects.exists()


def test_the_accountant_loads_no_list(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert send(client, csv_list(BELT)).status_code == 403
    assert not PriceList.objects.exists()


def test_a_list_of_many_rows_asks_no_more(desk, components, django_assert_max_num_queries):
    rows = [(f"CV-{n}", "Running belt", "Corvane", n, 4, "yes") for n in range(1, 300)]
    short = send(desk, csv_list(BELT)).redirect_chain[0][0]
    long = send(desk, csv_list(*rows)).redirect_chain[0][0]
    with django_assert_max_num_queries(12) as few:
        desk.get(short)
    with django_assert_max_num_queries(len(few.captured_queries)):
        desk.get(long)
