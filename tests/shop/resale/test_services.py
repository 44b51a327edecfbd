import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.floor.models import Stay
from shop.people.models import Customer
from shop.resale.models import Sale
from shop.resale.services import (
    Agreed,
    Paid,
    ResaleError,
    record_grading,
    sell_machine,
    set_price,
)
from shop.till.models import Invoice, Payment
from shop.till.services import TillError
from shop.work.services.intake import Person
from tests.factories.resale import MachineCostFactory, OwnStayFactory, ready_stay
from tests.factories.shop import CustomerFactory, StayFactory, TaxRateFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    KindFactory,
    MachineModelFactory,
    PersonFactory,
    RecallCheckFactory,
    UnitFactory,
)

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


def sell(stay, method="", amount=None, agreed=None, **changes):
    said = {"customer": CustomerFactory(), "on": TODAY, "key": KEY} | changes
    said |= {"agreed": agreed or Agreed(outlet="5-15"), "paid": Paid(method, amount)}
    return sell_machine(stay=stay, by=PersonFactory(), at=MORNING, **said)


def price(stay, asked="1000.00", floor="800.00", reason=""):
    return set_price(
        stay=stay,
        price=Decimal(asked),
        floor=Decimal(floor),
        reason=reason,
        by=PersonFactory(),
        at=MORNING,
    )


def grade(stay, key_present=False):
    return record_grading(
        stay=stay,
        grade="A",
        cleaned=True,
        safety_key_present=key_present,
        by=PersonFactory(),
        at=MORNING,
    )


def test_a_sale_bills_the_machine_at_its_price_and_the_tax_of_the_day():
    TaxRateFactory(line_class="machine", percent=Decimal("6"))
    sale = sell(ready_stay())
    assert (sale.invoice.net, sale.invoice.tax) == (Decimal("1200.00"), Decimal("72.00"))
    assert [line.line_class for line in sale.invoice.lines.all()] == ["machine"]


def test_a_sale_ends_the_stay_under_the_invoice():
    stay = ready_stay()
    sale = sell(stay)
    stay.refresh_from_db()
    assert (stay.left, stay.left_on, stay.left_document) == ("sold", TODAY, sale.invoice.number)


def test_a_sale_freezes_what_the_machine_cost():
    stay = ready_stay()
    MachineCostFactory(stay=stay, sort="parts", amount=Decimal("42.10"))
    assert sell(stay).cost == Decimal("392.10")


def test_a_sale_with_a_method_takes_the_whole_sum():
    sale = sell(ready_stay(), method="card")
    assert [(paid.method, paid.amount) for paid in Payment.objects.all()] == [
        ("card", sale.invoice.total)
    ]


def test_a_sale_takes_part_of_the_sum():
    sell(ready_stay(), method="cash", amount=Decimal("200.00"))
    assert Payment.objects.get().amount == Decimal("200.00")


def test_a_payment_above_the_sum_sells_nothing():
    stay = ready_stay()
    with pytest.raises(TillError), transaction.atomic():
        sell(stay, method="cash", amount=Decimal("1200.01"))
    stay.refresh_from_db()
    assert not stay.left_on
    assert not Invoice.objects.exists()


def test_the_same_key_sells_once():
    stay = ready_stay()
    assert sell(stay) == sell(stay)
    assert (Sale.objects.count(), Invoice.objects.count()) == (1, 1)


def test_a_second_sale_says_on_which_invoice_it_went():
    stay = ready_stay()
    first = sell(stay)
    with pytest.raises(ResaleError, match=f"sold already, on invoice {first.invoice.number}"):
        sell(stay, key=uuid.uuid4())


def test_a_machine_that_is_not_ready_is_refused_with_everything_it_needs():
    with pytest.raises(ResaleError, match="no asking price") as refusal:
        sell(OwnStayFactory())
    assert {unmet.key for unmet in refusal.value.unmet} >= {"plate", "test", "price"}
    assert not Invoice.objects.exists()


def test_nothing_overrides_a_recall():
    stay = ready_stay()
    RecallCheckFactory(unit=stay.unit, outcome="fits", checked_on=TODAY)
    with pytest.raises(ResaleError, match="nothing overrides"):
        sell(stay)


def test_a_customers_machine_is_not_sold():
    with pytest.raises(ResaleError, match="belongs to a customer"):
        sell(StayFactory())


def test_a_machine_is_not_sold_on_a_day_to_come():
    with pytest.raises(ResaleError, match="still to come") as error:
        sell(ready_stay(), on=TODAY + timedelta(days=1))
    assert error.value.field == "on"
    assert not Invoice.objects.exists()


def test_a_machine_is_not_sold_before_the_last_money_put_into_it():
    stay = ready_stay()
    Stay.objects.filter(pk=stay.pk).update(came_on=TODAY - timedelta(days=9))
    MachineCostFactory(stay=stay, spent_on=TODAY)
    with pytest.raises(ResaleError, match="not earlier than that"):
        sell(stay, on=TODAY - timedelta(days=1))
    assert not Invoice.objects.exists()


def test_a_machine_is_not_sold_before_it_came():
    with pytest.raises(ResaleError, match="before the day it came"):
        sell(ready_stay(), on=TODAY - timedelta(days=1))


def test_nothing_is_sold_into_a_closed_day():
    stay = ready_stay()
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        sell(stay)


def test_a_buyer_nobody_knew_becomes_a_customer():
    sale = sell(ready_stay(), customer=Person(name="Ada Marsh", phone="+1 202 555 0143"))
    assert Customer.objects.get(name="Ada Marsh") == sale.invoice.customer


def test_a_sale_is_never_changed():
    sale = sell(ready_stay())
    with pytest.raises(IntegrityError), transaction.atomic():
        Sale.objects.filter(pk=sale.pk).update(cost=Decimal(1))


def test_a_price_below_the_least_needs_a_reason():
    with pytest.raises(ResaleError, match="write down the reason") as refusal:
        price(OwnStayFactory(), asked="799.99", reason="  ")
    assert refusal.value.field == "reason"


def test_a_price_below_the_least_stands_with_a_reason():
    assert price(OwnStayFactory(), asked="700.00", reason="scratched").reason == "scratched"


def test_a_price_of_nothing_is_refused():
    with pytest.raises(ResaleError, match="more than nothing"):
        price(OwnStayFactory(), asked="0.00", floor="0.00")


def test_a_machine_that_was_sold_takes_no_new_price():
    stay = ready_stay()
    sell(stay)
    with pytest.raises(ResaleError, match="sold already"):
        price(stay)


def test_a_grading_is_added_and_the_old_one_stays():
    stay = ready_stay()
    grade(stay, key_present=True)
    assert stay.gradings.count() == 2


def test_a_kind_without_a_safety_key_has_none_present():
    rower = UnitFactory(model=MachineModelFactory(kind=KindFactory(slug="rower")))
    with pytest.raises(ResaleError, match="no safety key") as refusal:
        grade(OwnStayFactory(unit=rower), key_present=True)
    assert refusal.value.field == "safety_key_present"


def test_a_customers_machine_is_not_graded():
    with pytest.raises(ResaleError, match="belongs to a customer"):
        grade(StayFactory())
