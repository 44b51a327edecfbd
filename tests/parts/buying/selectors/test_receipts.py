import uuid
from decimal import Decimal

import pytest

from parts.buying.selectors import lines_of, receipts
from parts.buying.services import ReceivedLine, receive_parts, return_to_supplier
from tests.factories.parts import BinFactory, PartFactory, SupplierFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db


def test_the_list_of_receipts_says_how_many_lines_and_what_they_cost():
    line = ReceivedLine(PartFactory(), BinFactory(), Decimal(2), Decimal("1.25"))
    receive_parts(
        supplier=SupplierFactory(), lines=[line, line], reference="", on=TODAY,
        key=uuid.uuid4(), by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    (row,) = receipts()
    assert (row.line_count, row.cost) == (2, Decimal(5))


def test_a_line_says_what_was_sent_back_and_what_is_left_of_it():
    line = ReceivedLine(PartFactory(), BinFactory(), Decimal(5), Decimal("1.25"))
    receipt = receive_parts(
        supplier=SupplierFactory(), lines=[line], reference="", on=TODAY,
        key=uuid.uuid4(), by=PersonFactory(), at=MORNING,
    )  # fmt: skip
    for quantity in ("1", "0.5"):
        return_to_supplier(
            receipt_line=receipt.lines.get(), quantity=Decimal(quantity), reason="spare", note="",
            on=TODAY, key=uuid.uuid4(), by=PersonFactory(), at=MORNING,
        )  # fmt: skip
    (row,) = lines_of(receipt)
    assert (row.sent_back, row.left) == (Decimal("1.5"), Decimal("3.5"))
