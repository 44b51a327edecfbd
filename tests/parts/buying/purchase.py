"""An order, what comes of it and what goes back, in few words."""

import uuid
from datetime import timedelta
from decimal import Decimal

from parts.buying.services import (
    ArrivedLine,
    OrderedLine,
    order_parts,
    receive_order,
    return_to_supplier,
)
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

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
