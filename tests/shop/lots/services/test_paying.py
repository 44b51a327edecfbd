"""The money of a lot: paid, held back, made good after load-out, and posted to the cent."""

import uuid
from datetime import timedelta
from decimal import Decimal

import pytest

from parts.days.models import Calendar
from parts.days.services import DayClosedError
from shop.books.domain.months import Month
from shop.books.models import JournalLine
from shop.books.selectors.figures import figures_of
from shop.books.services import post_pending, posting_rules
from shop.floor.models import Goods, MachineCost
from shop.lots.models import GoodsFound, Lot, LotMachine, LotShare, LotStep
from shop.lots.selectors.money import lot_money, open_balance, price_after
from shop.lots.services import (
    Answer,
    Count,
    Facts,
    LotError,
    Scan,
    answer_matter,
    close_loading,
    count_goods,
    pay_lot,
    scan_machine,
    settle_held,
    settle_lot,
)
from shop.lots.services.taking import take_in
from shop.till.models import Holdback, HoldbackEnd, SellerPayment
from shop.till.services import Ending, Paying, TillError
from tests.factories.books import load_accounts
from tests.factories.units import TODAY, KindFactory
from tests.shop.lots.lots import MATTERS, act, an_agreed_lot
from tests.shop.lots.valuing.building import goods, treadmill, valued
from tests.shop.lots.valuing.building import lot as rows

pytestmark = pytest.mark.django_db
KEY = uuid.UUID("7d444840-9dc0-11d1-b245-5ffdce74fad2")


def pay(lot, **changes):
    return pay_lot(lot=lot, on=TODAY, **act() | changes)


def held_lot(held="500.00", price="4000.00"):
    """A lot of two treadmills, with money held back for the landlord."""
    two = Facts("treadmills", kind=KindFactory(), count=2)
    lot = an_agreed_lot(two, price=price, answered=MATTERS[:3])
    answer = Answer("landlord", "held", "the landlord", held=Decimal(held), note="rent is owed")
    answer_matter(lot=lot, answer=answer, **act())
    return lot


def scan(lot, *scans):
    machines = LotMachine.objects.filter(line__lot=lot).order_by("place")
    for machine, one in zip(machines, scans, strict=True):
        scan_machine(machine=machine, scan=one, **act())


def missing(amount):
    return Scan("missing", adjusted=Decimal(amount))


def end(lot, how, amount, reason="the landlord's letter", **changes):
    said = {"holdback": Holdback.objects.get(), "on": TODAY, "key": uuid.uuid4()} | changes
    return settle_held(lot=lot, ending=Ending(how, Decimal(amount), reason), **said, **act())


def settle(lot, **changes):
    return settle_lot(lot=lot, **{"on": TODAY, "key": uuid.uuid4()} | changes, **act())


def test_the_seller_is_paid_under_the_purchase_s_number_and_what_is_held_is_kept_apart():
    lot = pay(held_lot(), paying=Paying("check", "no. 17"))
    payment, held = SellerPayment.objects.get(), Holdback.objects.get()
    assert lot.document == payment.document == held.document == "B00001"
    assert (payment.amount, payment.method, payment.seller) == (3500, "check", lot.seller)
    assert (held.amount, "rent is owed" in held.reason) == (500, True)
    assert (open_balance(lot), LotStep.objects.get(state="paid").amount) == (0, 3500)


def test_what_came_off_before_the_payment_is_not_paid():
    lot = held_lot()
    scan(lot, missing("700.00"), Scan("loaded"))
    pay(lot)
    assert (SellerPayment.objects.get().amount, open_balance(lot)) == (2800, 0)


def test_paid_twice_is_paid_once_and_the_second_is_told_by_whom():
    lot = held_lot()
    pay(lot, key=KEY)
    assert pay(lot, key=KEY).state == Lot.State.PAID
    with pytest.raises(LotError, match=r"paid already, on .*: \$3,500.00, written by"):
        pay(lot, key=uuid.uuid4())
    assert (SellerPayment.objects.count(), Holdback.objects.count()) == (1, 1)
    assert LotStep.objects.filter(state="paid").count() == 1


def test_all_may_be_held_back_or_nothing_be_asked():
    assert pay(held_lot("4000.00")).state == "paid"
    assert pay(an_agreed_lot(price="0.00", title="a gift")).state == "paid"
    assert not SellerPayment.objects.exists()


def test_more_than_the_price_is_not_held_back_and_nothing_after_payment():
    lot = held_lot("4000.01")
    with pytest.raises(LotError, match="More is held back"):
        pay(lot)
    paid = pay(an_agreed_lot(title="another"))
    with pytest.raises(LotError, match="nothing more can be held back"):
        answer_matter(lot=paid, answer=Answer("lien", "held", "a bank", Decimal(5)), **act())


def test_a_machine_missing_after_the_payment_is_taken_off_what_is_held_back():
    lot = pay(held_lot())
    scan(lot, missing("300.00"), Scan("loaded"))
    scan(lot, missing("300.00"), Scan("loaded"))
    assert (price_after(lot), open_balance(lot)) == (3700, -300)
    with pytest.raises(LotError, match=r"owes us \$300.00. Take that off"):
        end(lot, "released", "200.00")
    with pytest.raises(LotError, match=r"owes us \$300.00. At most"):
        end(lot, "taken-off", "300.01")
    end(lot, "taken-off", "300.00")
    end(lot, "released", "200.00")
    assert (open_balance(lot), lot_money(lot).held, lot_money(lot).paid) == (0, 0, 3700)


def test_what_the_seller_got_too_much_comes_back_once():
    lot = pay(an_agreed_lot(Facts("treadmill", kind=KindFactory())))
    scan(lot, missing("350.00"))
    back = settle(lot, key=KEY)
    assert (back.amount, settle(lot, key=KEY)) == (-350, back)
    with pytest.raises(LotError, match="Nothing is open"):
        settle(lot)
    assert open_balance(lot) == 0


def test_a_correction_upwards_is_paid_too():
    lot = an_agreed_lot(Facts("treadmill", kind=KindFactory()))
    scan(lot, Scan("stripped", adjusted=Decimal(400)))
    pay(lot)
    scan(lot, Scan("stripped", adjusted=Decimal(150)))
    assert settle(lot).amount == 250


def test_held_money_ends_once_with_its_reason():
    lot = pay(held_lot())
    first = end(lot, "released", "500.00", key=KEY)
    assert end(lot, "released", "500.00", key=KEY) == first
    with pytest.raises(TillError, match="settled already"):
        end(lot, "kept", "500.00")
    assert (HoldbackEnd.objects.count(), SellerPayment.objects.count()) == (1, 2)
    assert open_balance(lot) == 0


def test_no_money_moves_in_closed_days():
    lot, other = pay(held_lot()), an_agreed_lot(title="another")
    Calendar.objects.update(closed_through=TODAY)
    for deed in (lambda: pay(other), lambda: end(lot, "kept", "5.00")):
        with pytest.raises(DayClosedError):
            deed()
    assert not HoldbackEnd.objects.exists()


def bought_lot(*fates, agreed="1000.01", held="100.00", found="900"):
    """A valued lot of treadmills and 900 lb of plates, paid but for what is held, scanned, and
    ``found`` lb of the plates counted."""
    made = rows({"model": treadmill(), "count": len(fates)}, goods())
    for place in range(1, len(fates) + 1):
        line = made.lines.get(sort="machine")
        LotMachine.objects.create(line=line, place=place, serial=f"CV{place:05}")
    valued(made)
    Lot.objects.filter(pk=made.pk).update(state="agreed", agreed=Decimal(agreed))
    for matter in MATTERS:
        outcome, amount = ("held", held) if matter == "lien" else ("clear", "0")
        answer_matter(lot=made, answer=Answer(matter, outcome, "Dana", Decimal(amount)), **act())
    pay(made)
    scan(made, *fates)
    plates = made.lines.get(sort="goods")
    count_goods(lot=made, counts={plates.pk: Count(Decimal(found))}, **act())
    close_loading(lot=made, on=TODAY, **act())
    made.refresh_from_db()
    return made


def accounts():
    found = {}
    for line in JournalLine.objects.all():
        found[line.account_id] = found.get(line.account_id, Decimal(0)) + line.amount
    return {number: amount for number, amount in found.items() if amount}


def booked():
    """The month's figures hold; what stands on which account."""
    month = Month.of(TODAY)
    post_pending(through=month.last, by=None, at=act()["at"])
    figures = figures_of(month, posting_rules())
    assert figures.hold, [tie for tie in figures.ties if not tie.holds]
    return accounts()


def test_a_lot_from_payment_to_shelf_ties_out_to_the_cent():
    """1,000.01 agreed, 100 held, 60.05 off at the truck for a machine and so much for 200.5 lb of
    900 that are short; a haul of 99.99; what was paid too much comes off what is held, the rest of
    which is kept for good."""
    load_accounts()
    made = bought_lot(Scan("loaded"), missing("20.05"), Scan("loaded"), found="699.5")
    short = GoodsFound.objects.get().adjusted
    assert 0 < short < Decimal("79.95")
    came_off = Decimal("20.05") + short
    take_in(lot=made, haul=Decimal("99.99"), on=TODAY, **act())
    end(made, "taken-off", came_off)
    end(made, "kept", Decimal(100) - came_off)
    costs = MachineCost.objects.filter(document=made.document)
    heap = Goods.objects.get()
    whole = Decimal("1100.00") - came_off
    assert sum(one.amount for one in costs) + heap.cost == whole
    assert sum(one.amount for one in costs.filter(sort="haul")) + heap.haul == Decimal("99.99")
    assert (heap.quantity, heap.measure) == (Decimal("699.5"), "lb")
    assert heap.document == made.document
    assert booked() == {
        "1020": Decimal("-900.01"),
        "1400": whole - heap.cost,
        "1420": heap.cost,
        "4610": came_off - 100,
        "5910": Decimal("-99.99"),
    }


def test_goods_that_are_missing_are_not_shelved_and_the_machines_bear_the_rest():
    load_accounts()
    made = bought_lot(Scan("loaded"), found="0", held="900.00")
    off = GoodsFound.objects.get().adjusted
    take_in(lot=made, haul=Decimal(0), on=TODAY, **act())
    end(made, "taken-off", off)
    end(made, "released", 900 - off)
    assert not Goods.objects.exists()
    assert LotShare.objects.get().share == Decimal("1000.01") - off
    assert booked() == {"1020": off - Decimal("1000.01"), "1400": Decimal("1000.01") - off}


def test_a_lot_paid_but_not_here_stands_as_paid_ahead():
    load_accounts()
    bought_lot(Scan("loaded"))
    month = Month.of(TODAY)
    post_pending(through=month.last, by=None, at=act()["at"])
    assert figures_of(month, posting_rules()).hold
    assert accounts() == {
        "1020": Decimal("-900.01"), "2150": Decimal("1000.01"), "2160": Decimal("-100.00"),
    }  # fmt: skip


def test_taken_in_twice_goods_stand_on_the_shelf_once():
    made = bought_lot(Scan("loaded"))
    for _press in range(2):
        take_in(lot=made, haul=Decimal(0), on=TODAY, **act())
    assert Goods.objects.count() == 1


def test_a_payment_before_it_was_held_back_is_refused():
    lot = pay(held_lot())
    with pytest.raises(TillError, match="cannot be settled before"):
        end(lot, "kept", "5.00", on=TODAY - timedelta(days=1))
