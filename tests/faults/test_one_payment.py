"""Two who pay a lot, take it in or make good what is open at once: one effect, and one is told."""

import pytest

from tests.ground import finished

PREPARE = """
import uuid
from datetime import UTC, date, datetime
from decimal import Decimal
from django.contrib.auth import get_user_model
from shop.lots.models import LotMachine, Valuation
from shop.lots.services import (
    Answer, Count, Facts, Offered, Scan, add_line, agree_price, answer_matter, close_loading,
    confirm_list, count_goods, open_lot, pay_lot, scan_machine,
)
from shop.people.services import save_customer
from units.catalogue.models import Kind
by, on = get_user_model().objects.create_user("robin"), date(2026, 10, 5)
act = {"by": by, "at": datetime(2026, 10, 5, 9, tzinfo=UTC)}
seller = save_customer(
    name="Millrace Athletic", sort="company", phone="", email="", note="", known_since=on
)
treadmill = Kind.objects.get(slug="treadmill")
for number in range(1, 7):
    offered = Offered(f"Lot {number}", on)
    lot = open_lot(seller=seller, offered=offered, key=uuid.UUID(int=number), **act)
    machine = {"maker": "Corvane", "number": "TM-9", "kind": treadmill}
    add_line(lot=lot, facts=Facts("a treadmill", serials=[f"CV{number}"], **machine), **act)
    plates = {"goods": "plates", "measure": "lb", "quantity": Decimal(900)}
    add_line(lot=lot, facts=Facts("900 lb of plates", **plates), **act)
    lot = confirm_list(lot=lot, on=on, **act)
    for matter in ("authority", "lease", "landlord"):
        answer_matter(lot=lot, answer=Answer(matter, "clear", "Dana Reed"), **act)
    held = Answer("lien", "held", "Dana Reed", held=Decimal(100))
    answer_matter(lot=lot, answer=held, **act)
    agree_price(lot=lot, price=Decimal(1000), on=on, **act)
    terms = {"margin": Decimal("0.35"), "odds": Decimal("0.8"), "seed": 1, "draws": 100}
    Valuation.objects.create(
        lot=lot, key=uuid.uuid4(), state="done", inputs={}, valued_on=on, wanted_at=act["at"],
        figures={"worths": {"1-1": 500.0, "2": 90.0}}, wanted_by=by, ended_at=act["at"], **terms,
    )
"""
# After it: a machine missing though it was paid for.
MISSING = """
for lot in Lot.objects.all():
    pay_lot(lot=lot, on=on, **act)
    machine = LotMachine.objects.get(line__lot=lot)
    scan_machine(machine=machine, scan=Scan("missing", adjusted=Decimal(40)), **act)
"""
LOADED = """
for lot in Lot.objects.all():
    pay_lot(lot=lot, on=on, **act)
    machine = LotMachine.objects.get(line__lot=lot)
    scan_machine(machine=machine, scan=Scan("loaded"), **act)
    plates = lot.lines.get(sort="goods")
    count_goods(lot=lot, counts={plates.pk: Count(plates.quantity)}, **act)
    close_loading(lot=lot, on=on, **act)
"""
PRESS = """
import django; django.setup()
import uuid
from datetime import UTC, date, datetime
from decimal import Decimal
from django.contrib.auth import get_user_model
from shop.lots.models import Lot
from shop.lots.services import LotError, pay_lot, settle_held, settle_lot
from shop.lots.services.taking import take_in
from shop.till.models import Holdback
from shop.till.services import Ending, TillError
by, on = get_user_model().objects.get(), date(2026, 10, 5)
act = {"by": by, "at": datetime(2026, 10, 5, 12, tzinfo=UTC), "on": on}
for lot in Lot.objects.order_by("pk"):
    key = KEY
    try:
        DEED
    except (LotError, TillError):
        print("told")
    else:
        print("done")
"""
SAME, OWN = 'uuid.uuid5(uuid.NAMESPACE_OID, f"press {lot.pk}")', "uuid.uuid4()"
PAY = "pay_lot(lot=lot, key=key, **act)"
SETTLE = "settle_lot(lot=lot, key=key, **act)"
END = (
    "settle_held(lot=lot, holdback=Holdback.objects.get(document=lot.document), key=key,"
    ' ending=Ending("kept", Decimal(100), "as agreed"), **act)'
)
TAKE = "take_in(lot=lot, haul=Decimal(60), **act)"
COUNT = """
from shop.floor.models import Goods, MachineCost, Stay
from shop.lots.models import LotShare
from shop.till.models import Holdback, HoldbackEnd, SellerPayment
tables = (SellerPayment, Holdback, HoldbackEnd, Stay, Goods, MachineCost, LotShare)
print(*[table.objects.count() for table in tables])
"""
STORIES = {
    "pay": ("", PAY, "6 6 0 0 0 0 0"),
    "make good": (MISSING, SETTLE, "12 6 0 0 0 0 0"),
    "end what is held": (MISSING, END, "6 6 6 0 0 0 0"),
}


def both(database, key, deed):
    code = PRESS.replace("KEY", key).replace("DEED", deed)
    started = [database.start("-c", code) for _ in range(2)]
    return [finished(one).split() for one in started]


@pytest.mark.parametrize("story", STORIES)
def test_two_who_do_it_at_once_do_it_once_and_one_of_them_is_told(real_database, story):
    before, deed, counts = STORIES[story]
    real_database.python(PREPARE + "from shop.lots.models import Lot\n" + before)
    first, second = both(real_database, OWN, deed)
    assert [sorted(pair) for pair in zip(first, second, strict=True)] == [["done", "told"]] * 6
    assert real_database.python(COUNT).split() == counts.split()


def test_both_halves_of_a_double_press_pay_once(real_database):
    real_database.python(PREPARE)
    assert both(real_database, SAME, PAY) == [["done"] * 6] * 2
    assert real_database.python(COUNT).split() == ["6", "6", "0", "0", "0", "0", "0"]


def test_taken_in_by_two_at_once_everything_comes_once(real_database):
    real_database.python(PREPARE + "from shop.lots.models import Lot\n" + LOADED)
    assert both(real_database, OWN, TAKE) == [["done"] * 6] * 2
    assert real_database.python(COUNT).split() == ["6", "6", "0", "6", "6", "12", "12"]
