"""What the told shop knows of parts: evidence that changed, recalls, orders, a donor, exchanges."""

import json

import pytest

from tests.conftest import DEMO_DAY

YEAR_AGO = "2025-10-31"
TOLD = f"""
import json
from datetime import date
from parts.answers.models import Answer, Withdrawal
from parts.buying.models import Exchange, PriceList, PurchaseOrder, SupplierReturn
from parts.buying.selectors import cores_to_send, lines_so_far, states_of
from parts.fits.models import Sister, Supersession
from parts.stock.models import Donor
from parts.support.selectors import standing_of
from units.catalogue.models import MachineModel
from units.recalls.models import RecallLoad
from units.recalls.selectors import all_matches

today, year_ago = date.fromisoformat({DEMO_DAY!r}), date.fromisoformat({YEAR_AGO!r})
models = list(MachineModel.objects.current().select_related("maker", "kind"))

def words(on):
    return {{
        str(one.model): [one.support.status, one.support.fresh]
        for one in standing_of(models, on).values()
    }}

orders = list(PurchaseOrder.objects.all())
donor = Donor.objects.get()
print(json.dumps({{
    "today": words(today),
    "year_ago": words(year_ago),
    "matches": [match.state for match in all_matches()],
    "loads": [[one.new, one.same] for one in RecallLoad.objects.order_by("pk")],
    "orders": sorted(states_of(lines_so_far(orders)).values()),
    "returns": list(SupplierReturn.objects.values_list("reason", flat=True)),
    "lists": PriceList.objects.count(),
    "listed": Answer.objects.filter(channel="listing").count(),
    "donor": [donor.unit.stays.get().left, *sorted(one.state for one in donor.pieces.all())],
    "donor_cost": [str(donor.cost), str(sum(one.cost for one in donor.pieces.all()))],
    "cores_out": [one.exchange.number for one in cores_to_send(today)],
    "exchanges": Exchange.objects.count(),
    "withdrawn": Withdrawal.objects.count(),
    "chains": Supersession.objects.count(),
    "sisters": Sister.objects.count(),
    "span": (today - Answer.objects.order_by("given_on").first().given_on).days,
}}))
"""


@pytest.fixture(scope="module")
def told(demo_template) -> dict:
    return json.loads(demo_template.made.python(TOLD).splitlines()[-1])


def support(demo_template, model: str, *words: str) -> dict:
    return json.loads(demo_template.made.manage("support", model, *words, "--json"))


def test_answers_go_back_two_years_and_most_models_stand_otherwise_than_a_year_ago(told):
    assert told["span"] > 600
    changed = [model for model, word in told["today"].items() if word != told["year_ago"][model]]
    assert len(changed) > 30
    words = {status for status, _fresh in told["today"].values()}
    assert words == {"supported", "limited", "back-ordered", "ended", "not-asked"}


def test_the_command_tells_a_year_ago_as_the_evidence_was(demo_template):
    now = support(demo_template, "HG 7100", "--on", DEMO_DAY)
    then = support(demo_template, "HG 7100", "--on", YEAR_AGO)
    assert (now["status"], then["status"]) == ("ended", "supported")
    worn = {one["component"]: one for one in now["components"]}
    assert worn["running-belt"]["route"] in {"shelf", "supplier"}
    assert worn["motor-control-board"]["route"] == "rebuild"


def test_one_recall_match_is_confirmed_one_dismissed_and_one_open(told):
    assert sorted(told["matches"]) == ["confirmed", "dismissed", "open"]
    assert told["loads"] == [[2, 0], [1, 2]]


def test_orders_stand_in_every_state_and_the_wrong_part_went_back(told):
    assert told["orders"] == ["cancelled", "open", "open", "part-received", "received"]
    assert told["returns"] == ["wrong"]


def test_two_price_lists_are_loaded(told):
    assert told["lists"] == 2
    assert told["listed"] > 90


def test_a_machine_of_ours_was_taken_apart_and_its_cost_is_on_its_pieces(told):
    assert told["donor"] == ["stripped", "held", "held", "held", *["scrapped"] * 2, *["taken"] * 2]
    assert told["donor_cost"][0] == told["donor_cost"][1]


def test_one_exchanges_old_piece_is_still_to_go_back(told):
    assert told["exchanges"] == 2
    assert len(told["cores_out"]) == 1


def test_a_withdrawn_answer_a_later_number_and_sister_models_are_there(told):
    assert (told["withdrawn"], told["chains"], told["sisters"]) == (1, 1, 4)
