"""The floor of the told shop: spots, a reservation, a gift, a holding period, a return."""

import json

import pytest

from tests.conftest import DEMO_DAY

TOLD = f"""
import json
from datetime import date
from parts.stock.models import Donor
from shop.floor.models import Move, Spot, Stay
from shop.resale.models import Disposal, Reservation
from shop.resale.selectors import for_sale, our_stays
from shop.work.models import WorkOrder
from shop.work.selectors.warranty import repeat_failures

on = date.fromisoformat({DEMO_DAY!r})
looks = for_sale(our_stays(), on)
here = Stay.objects.here()
spots = dict(Spot.objects.values_list("name", "sort"))
held = Reservation.objects.get()
gone = Disposal.objects.get()
back = WorkOrder.objects.get(purpose="warranty")
stripped = Donor.objects.get().unit.stays.get()
print(json.dumps({{
    "sorts": sorted({{spots[one.stands_at] for one in here if one.stands_at in spots}}),
    "nowhere": [str(one.unit) for one in here if not one.stands_at],
    "moves_agree": all(
        stay.moves.first().spot.name == stay.stands_at for stay in here if stay.moves.exists()
    ),
    "moved_days": Move.objects.dates("moved_at", "day").count(),
    "only": sorted(one.unmet[0].key for one in looks if len(one.unmet) == 1),
    "ready": sum(one.ready for one in looks),
    "reserved": [str(held.deposit.amount), held.over_at, (held.until_on - on).days],
    "gone": [gone.stay.left, gone.disclosure.exit, bool(gone.disclosure.terms)],
    "back": [back.state, back.outcome, back.warranty_of.state],
    "back_invoice": back.hand_back.invoice_id,
    "repeats": [[one.repairs, one.back, one.cost > 0] for _, one in repeat_failures().models[:1]],
    "stripped": stripped.left,
}}))
"""


@pytest.fixture(scope="module")
def told(demo_template) -> dict:
    return json.loads(demo_template.made.python(TOLD).splitlines()[-1])


def test_every_machine_stands_in_a_named_spot_in_the_shop_a_truck_or_at_a_customer_s(told):
    assert {"bay", "truck", "out"} == set(told["sorts"])
    assert told["nowhere"] == []
    assert told["moves_agree"]
    assert told["moved_days"] > 90


def test_one_machine_is_reserved_and_one_is_only_held_by_its_holding_period(told):
    assert told["reserved"] == ["100.00", None, 9]
    assert told["only"] == ["holding", "reserved"]
    assert told["ready"] == 4


def test_one_machine_was_given_away_with_its_papers_and_one_taken_apart(told):
    assert told["gone"] == ["donated", "donated", True]
    assert told["stripped"] == "stripped"


def test_a_repair_came_back_under_our_warranty_free_but_costed(told):
    assert told["back"] == ["handed-back", "repaired", "handed-back"]
    assert told["back_invoice"] is None
    assert told["repeats"] == [[1, 1, True]]
