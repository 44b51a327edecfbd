"""An order or an exchange, what comes of it and what goes back, in few words."""

import uuid
from datetime import timedelta
from decimal import Decimal

from parts.buying.services import (
    ArrivedLine,
    OrderedLine,
    add_offer,
    order_exchange,
    order_parts,
    receive_order,
    return_to_supplier,
    step_exchange,
)
from tests.factories.parts import PartFactory
from tests.factories.units import (
    MORNING,
    TODAY,
    ComponentFactory,
    MachineModelFactory,
    PersonFactory,
)
from units.catalogue.models import KindComponent

ORDERED_ON = TODAY - timedelta(days=6)


def an_order(*quantities, supplier="Corvane parts desk", cost="10", **line):
    """One line a quantity, ordered six days ago; ``line`` says more of every line."""
    lines = [
        OrderedLine(
            line.get("part") or PartFactory(),
            Decimal(quantity),
            Decimal(cost),
            line.get("demand", ""),
            line.get("expected_on"),
        )
        for quantity in quantities
    ]
    return order_parts(
        supplier=supplier, lines=lines, on=ORDERED_ON, key=uuid.uuid4(),
        by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def take_in(order, *quantities, cost="10", **changes):
    """What came of the order's lines in turn; ``None`` for nothing."""
    came = [
        ArrivedLine(line, "A1", Decimal(quantity), Decimal(cost))
        for line, quantity in zip(order.lines.order_by("id"), quantities, strict=False)
        if quantity is not None
    ]
    said = {"reference": "LS-4711", "on": TODAY, "key": uuid.uuid4()}
    said |= {"by": PersonFactory(), "at": MORNING}
    return receive_order(order=order, lines=came, **said | changes)


def send_back(receipt_line, quantity="1", **changes):
    said = {"reason": "wrong", "note": "a deck", "on": TODAY, "key": uuid.uuid4()}
    said |= {"by": PersonFactory(), "at": MORNING}
    return return_to_supplier(
        receipt_line=receipt_line, quantity=Decimal(quantity), **said | changes
    )


def an_offer(core_charge="0", core_days=None, **changes):
    """A workshop's offer for a component of a model that has it."""
    if "model" not in changes:
        component = ComponentFactory(slug="console-board", name="console board")
        changes["model"] = model = MachineModelFactory()
        KindComponent.objects.get_or_create(
            kind=model.kind, component=component, defaults={"position": 1}
        )
        changes.setdefault("component", component)
    said = {"supplier": "Pellworth boards", "cost": Decimal(120), "lead_days": 6}
    said |= {"given_on": TODAY, "given_by": "Dana", "channel": "phone"}
    said |= {"by": PersonFactory(), "at": MORNING}
    return add_offer(core_charge=Decimal(core_charge), core_days=core_days, **said | changes)


def an_exchange(offer=None, key=None, on=TODAY, **terms):
    return order_exchange(
        offer=offer or an_offer(**terms), document="J00012", on=on, key=key or uuid.uuid4(),
        by=PersonFactory(), at=MORNING,
    )  # fmt: skip


def step(exchange, what, on):
    return step_exchange(exchange=exchange, step=what, on=on, by=PersonFactory(), at=MORNING)
