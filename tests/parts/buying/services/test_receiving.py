import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.answers.models import Answer
from parts.buying.models import Receipt, Supplier
from parts.buying.services import (
    BuyingError,
    ReceivedLine,
    TypedLine,
    receive_delivery,
    receive_parts,
)
from parts.days.models import Calendar
from parts.days.services import DayClosedError
from parts.fits.models import Part
from parts.stock.models import StockMove
from parts.stock.selectors import on_hand
from tests.factories.parts import BinFactory, PartFactory, SupplierFactory
from tests.factories.units import MORNING, TODAY, ComponentFactory, PersonFactory

pytestmark = pytest.mark.django_db
TOMORROW = TODAY + timedelta(days=1)


def line(part=None, quantity="2", cost="10"):
    return ReceivedLine(part or PartFactory(), BinFactory(), Decimal(quantity), Decimal(cost))


def receive(lines, **changes):
    said = {
        "supplier": SupplierFactory(),
        "reference": "LS-4711",
        "on": TODAY,
        "key": uuid.uuid4(),
        "by": PersonFactory(),
        "at": MORNING,
    }
    return receive_parts(lines=lines, **said | changes)


def test_a_delivery_lies_on_the_shelf_under_its_number():
    part = PartFactory()
    receipt = receive([line(part, "2", "10"), line(quantity="1", cost="0.5")])
    assert receipt.number == "D00001"
    assert on_hand([part]) == {part.pk: Decimal(2)}
    assert {move.document for move in StockMove.objects.all()} == {"D00001"}
    assert [one.move.cost for one in receipt.lines.order_by("unit_cost")] == [
        Decimal("0.50"),
        Decimal(20),
    ]


def test_receipts_are_numbered_in_a_row():
    assert [receive([line()]).number for _ in range(3)] == ["D00001", "D00002", "D00003"]


def test_the_same_key_receives_nothing_again():
    key, part = uuid.uuid4(), PartFactory()
    first = receive([line(part)], key=key)
    assert receive([line(part)], key=key) == first
    assert on_hand([part])[part.pk] == Decimal(2)


def test_one_part_may_come_on_two_lines():
    part = PartFactory()
    receive([line(part, cost="10"), line(part, cost="12")])
    assert on_hand([part])[part.pk] == Decimal(4)


def test_a_delivery_proves_that_the_supplier_has_the_part_at_its_cost():
    part = PartFactory()
    receive([line(part, cost="12.345678")])
    answer = Answer.objects.get(part=part)
    assert (answer.route, answer.party, answer.channel) == (
        "supplier",
        "Corvane parts desk",
        "order",
    )
    assert (answer.status, answer.cost, answer.lead_days, answer.given_on) == (
        "supported", Decimal("12.345678"), None, TODAY,
    )  # fmt: skip


def test_a_delivery_of_nothing_is_refused():
    with pytest.raises(BuyingError, match="at least one line"):
        receive([])


def test_a_delivery_of_tomorrow_is_refused_at_its_day():
    with pytest.raises(BuyingError, match="6 Oct 2026 has not come yet") as refusal:
        receive([line()], on=TOMORROW)
    assert refusal.value.field == "received_on"
    assert not Receipt.objects.exists()


def test_a_closed_day_takes_no_delivery():
    Calendar.objects.update(closed_through=TODAY)
    with pytest.raises(DayClosedError):
        receive([line()])
    assert not Receipt.objects.exists()


def test_one_bad_line_leaves_nothing_behind():
    part = PartFactory()
    with pytest.raises(ValueError, match="more than nothing"):
        receive([line(part), line(quantity="0")])
    assert not Receipt.objects.exists()
    assert not StockMove.objects.exists()
    assert receive([line(part)]).number == "D00001"


def deliver(*lines, **changes):
    said = {"supplier": "Holmgate spares", "reference": "", "on": TODAY, "key": uuid.uuid4()}
    said |= {"by": PersonFactory(), "at": MORNING}
    return receive_delivery(lines=lines, **said | changes)


def typed(**changes):
    said = {"bin_name": "C3", "quantity": Decimal(1), "unit_cost": Decimal(4)}
    return TypedLine(**said | changes)


def test_a_delivery_as_typed_adds_supplier_part_maker_and_bin():
    deck = ComponentFactory(slug="deck")
    new = {"number": "HG-9", "maker_name": "Holmgate", "name": "deck", "component": deck}
    receipt = deliver(typed(**new))
    (move,) = StockMove.objects.all()
    assert (move.part.maker.name, move.part.number, move.bin.name) == ("Holmgate", "HG-9", "C3")
    assert receipt.supplier.name == "Holmgate spares"


def test_two_lines_of_one_new_part_add_it_once():
    new = {"number": "HG-9", "name": "deck", "component": ComponentFactory(slug="deck")}
    deliver(typed(**new), typed(**new))
    assert Part.objects.get().maker is None
    assert StockMove.objects.count() == 2


def test_a_delivery_as_typed_sent_twice_is_one():
    key, part = uuid.uuid4(), PartFactory()
    first = deliver(typed(part=part), key=key)
    assert deliver(typed(part=part), key=key, supplier="Another") == first
    assert Supplier.objects.count() == 1


def test_a_refused_delivery_adds_no_part_and_no_supplier():
    new = {"number": "HG-9", "name": "deck", "component": ComponentFactory(slug="deck")}
    with pytest.raises(BuyingError):
        deliver(typed(**new), on=TOMORROW)
    assert not Part.objects.exists()
    assert not Supplier.objects.exists()
