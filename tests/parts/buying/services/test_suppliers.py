from datetime import timedelta
from decimal import Decimal

import pytest

from parts.buying.models import Supplier
from parts.buying.services import BuyingError, add_supplier, price_part, record_price
from parts.fits.services import RefusedError
from tests.factories.parts import PartFactory, SupplierFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
TOMORROW = TODAY + timedelta(days=1)


def test_a_supplier_is_met_again_however_he_is_spaced_or_capitalised():
    first = add_supplier(name="Holmgate  spares", phone="+1 202 555 0114")
    assert add_supplier(name=" holmgate spares") == first
    assert (first.name, first.phone) == ("Holmgate spares", "+1 202 555 0114")


@pytest.mark.parametrize(
    ("wrong", "field"), [({"name": " "}, "supplier"), ({"phone": "call Dana"}, "phone")]
)
def test_a_supplier_without_a_name_or_with_letters_for_digits_is_refused(wrong, field):
    with pytest.raises(BuyingError) as refusal:
        add_supplier(**{"name": "Holmgate spares"} | wrong)
    assert refusal.value.field == field
    assert not Supplier.objects.exists()


def price(**changes):
    said = {"part": PartFactory(), "cost": Decimal("8.5"), "lead_days": 4, "given_on": TODAY}
    return said | {"by": PersonFactory(), "at": MORNING} | changes


def test_a_price_keeps_what_was_asked_and_when():
    made = record_price(supplier=SupplierFactory(), **price())
    assert (made.cost, made.lead_days, made.given_on) == (Decimal("8.5"), 4, TODAY)
    assert (made.route, made.party, made.channel) == ("supplier", "Corvane parts desk", "listing")


def test_the_same_price_said_twice_on_one_day_is_one():
    supplier, said = SupplierFactory(), price()
    assert record_price(supplier=supplier, **said) == record_price(supplier=supplier, **said)


@pytest.mark.parametrize(
    ("wrong", "field"), [({"cost": Decimal(-1)}, "cost"), ({"given_on": TOMORROW}, "given_on")]
)
def test_a_price_below_nothing_or_of_tomorrow_is_refused(wrong, field):
    with pytest.raises(RefusedError) as refusal:
        price_part(supplier="Holmgate spares", **price(**wrong))
    assert refusal.value.field == field
    assert not Supplier.objects.exists()
