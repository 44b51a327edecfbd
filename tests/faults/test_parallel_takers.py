"""Twenty people take from one shelf in the same moment, in four processes of five threads,
however the shop costs its parts."""

from decimal import Decimal

import pytest

from tests.ground import SET_UP, finished

PROCESSES, THREADS = 4, 5

STOCK_THE_SHELF = """
from datetime import UTC, date, datetime
from decimal import Decimal
from django.contrib.auth.models import User
from parts.fits.services import add_part
from parts.stock.services import choose_costing, find_or_add_bin, receive_stock
from units.catalogue.models import Component

by = User.objects.create_user("keeper")
part = add_part(maker=None, number="B-6203", name="bearing", component=Component.objects.first())
place = find_or_add_bin(name="A1")
if METHOD == "average":
    at = datetime(2026, 10, 5, tzinfo=UTC)
    choose_costing(method=METHOD, reason="as advised", by=by, at=at)
for quantity, cost in [("3", "0.333333"), ("4", "1.111111")]:
    receive_stock(
        part=part, bin=place, quantity=Decimal(quantity), unit_cost=Decimal(cost),
        on=date(2026, 10, 5), document="D00001", by=by, at=datetime(2026, 10, 5, tzinfo=UTC),
    )
"""

# Each process says that it is ready and begins when the file ``go`` appears.
TAKE = (
    SET_UP
    + """
import pathlib, sys, threading, time
from datetime import UTC, date, datetime
from decimal import Decimal
from django.contrib.auth.models import User
from django.db import connection
from parts.fits.models import Part
from parts.stock.services import NotEnoughStockError, issue_stock

part, by = Part.objects.get(), User.objects.get()
connection.close()
start = threading.Barrier(int(sys.argv[2]) + 1)

def take():
    start.wait()
    try:
        issue_stock(
            part=part, quantity=Decimal(1), reason="used", on=date(2026, 10, 6),
            document="J00001", by=by, at=datetime(2026, 10, 6, tzinfo=UTC),
        )
        outcome = "took"
    except NotEnoughStockError:
        outcome = "none left"
    except Exception as error:
        outcome = repr(error)
    connection.close()
    outcomes.append(outcome)

outcomes = []
takers = [threading.Thread(target=take) for _ in range(int(sys.argv[2]))]
for taker in takers:
    taker.start()
print("ready", flush=True)
while not pathlib.Path(sys.argv[1]).exists():
    time.sleep(0.005)
start.wait()
for taker in takers:
    taker.join()
print(*outcomes, sep="\\n")
"""
)

ADD_UP = """
from parts.stock.models import CostLayer, Shelf, StockMove
moves = list(StockMove.objects.filter(quantity__lt=0))
print(
    -sum(move.quantity for move in moves),
    -sum(move.cost for move in moves),
    sum(shelf.on_hand for shelf in Shelf.objects.all()),
    sum(layer.quantity_left for layer in CostLayer.objects.all()),
    sum(layer.cost_left for layer in CostLayer.objects.all()),
)
"""


@pytest.fixture(params=["fifo", "average"])
def outcomes(request, real_database, tmp_path):
    """What each of the twenty met, after all have taken from a shelf of seven."""
    real_database.python(f"METHOD = {request.param!r}\n{STOCK_THE_SHELF}")
    go = tmp_path / "go"
    takers = [real_database.start("-c", TAKE, str(go), str(THREADS)) for _ in range(PROCESSES)]
    for taker in takers:
        assert taker.stdout.readline() == "ready\n", finished(taker)
    go.touch()
    return [line for taker in takers for line in finished(taker).splitlines()]


def test_seven_of_twenty_get_one_each_and_no_cent_is_lost(real_database, outcomes):
    assert sorted(outcomes) == ["none left"] * 13 + ["took"] * 7
    taken, cost, on_hand, left, left_cost = map(Decimal, real_database.python(ADD_UP).split())
    assert (taken, on_hand, left) == (7, 0, 0)
    assert (cost, left_cost) == (Decimal("5.44"), 0)
