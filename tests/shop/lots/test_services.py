from datetime import timedelta
from decimal import Decimal

import pytest

from shop.lots.models import Offer, OfferLine
from shop.lots.services import OfferedLine, OfferError, add_offer
from tests.factories.shop import CustomerFactory
from tests.factories.units import MORNING, TODAY, MachineModelFactory, PersonFactory

pytestmark = pytest.mark.django_db


def offer(*lines, **changes):
    said = {
        "seller": CustomerFactory(name="Millrace Athletic"),
        "title": "Closing sale",
        "asked": Decimal("9000.00"),
        "offered_on": TODAY,
        "remove_by": TODAY + timedelta(days=10),
    }
    return add_offer(lines=lines, by=PersonFactory(), at=MORNING, **said | changes)


def test_the_lines_stand_as_written_and_in_order():
    model = MachineModelFactory()
    lines = OfferedLine("  corvane tm ", model, 4, hours=3100), OfferedLine("bike, blue")
    written = offer(*lines).lines.values_list("position", "text", "model", "count", "hours")
    assert list(written) == [
        (1, "corvane tm", model.pk, 4, 3100),
        (2, "bike, blue", None, 1, None),
    ]


def test_an_offer_may_ask_for_our_price():
    assert offer(OfferedLine("bike"), asked=None).asked is None


@pytest.mark.parametrize(
    ("lines", "changes", "sentence"),
    [
        ((), {}, "at least one machine"),
        ((OfferedLine("bike"), OfferedLine("  ")), {}, "Line 2 says no machine"),
        ((OfferedLine("bike", count=0),), {}, "Line 1 counts no machine"),
        ((OfferedLine("bike"),), {"title": " "}, "title"),
        ((OfferedLine("bike"),), {"asked": Decimal("-1.00")}, "below nothing"),
        ((OfferedLine("bike"),), {"remove_by": TODAY - timedelta(days=1)}, "before"),
    ],
)
def test_a_wrong_offer_is_refused_and_nothing_is_written(lines, changes, sentence):
    with pytest.raises(OfferError, match=sentence):
        offer(*lines, **changes)
    assert (Offer.objects.count(), OfferLine.objects.count()) == (0, 0)
