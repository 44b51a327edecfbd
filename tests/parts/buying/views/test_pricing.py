import pytest
from django.urls import reverse

from parts.answers.models import Answer
from tests.factories.parts import PartFactory, SupplierFactory, SupplierPriceFactory
from tests.factories.units import PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    return client


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
