import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db.models import Sum
from django.urls import reverse

from shop.floor.models import Goods, GoodsOut, MachineCost, Stay
from shop.floor.services import Leaving, end_stay, take_goods
from shop.lots.models import Lot, LotMachine, LotShare, LotStep
from shop.lots.selectors.shares import past_lots
from shop.lots.services.errors import LotError
from shop.lots.services.taking import take_in
from shop.resale.services import Bargain, Paid, sell_goods
from shop.work.models import WorkOrder
from tests.factories.shop import CustomerFactory, ShopProfileFactory
from tests.factories.units import MORNING, TODAY, PersonFactory, UnitFactory
from tests.shop.lots.valuing.building import goods, lot, treadmill, valued
from units.catalogue.models import Unit

pytestmark = pytest.mark.django_db


def loaded(*fates, value=True, agreed="1000.01", **fields):
    """A lot with a machine for each fate, on the truck, and 900 lb of plates."""
    line = {"model": treadmill(), "count": len(fates), "hours": 700, **fields}
    made = lot(line, goods())
    for place, fate in enumerate(fates, start=1):
        LotMachine.objects.create(
            line=made.lines.get(sort="machine"),
            place=place,
            serial=f"CV{place:05}",
            fate=fate,
            seen_serial="CV99999" if fate == "swapped" else "",
            scanned_at=MORNING,
            scanned_by=PersonFactory(),
        )
    if value:
        valued(made)
    price = Decimal(agreed)
    Lot.objects.filter(pk=made.pk).update(state="loaded", agreed=price)
    for state in ("agreed", "loaded"):
        LotStep.objects.create(
            lot=made,
            state=state,
            amount=price,
            done_on=TODAY,
            recorded_at=MORNING,
            recorded_by=PersonFactory(),
        )
    made.refresh_from_db()
    return made


def take(made, haul="99.99"):
    return take_in(lot=made, haul=Decimal(haul), on=TODAY, by=PersonFactory(), at=MORNING)


def test_every_loaded_machine_becomes_ours_with_a_job_waiting():
    made = take(loaded("loaded", "loaded"))
    stays = Stay.objects.all()
    assert made.state == "taken-in"
    assert [stay.came for stay in stays] == ["purchase", "purchase"]
    assert {stay.came_from for stay in stays} == {made.seller}
    assert WorkOrder.objects.filter(purpose="own", state="logged").count() == 2
    assert sorted(Unit.objects.values_list("serial", flat=True)) == ["CV00001", "CV00002"]


def test_price_and_haul_are_split_so_that_the_cents_add_up():
    take(loaded("loaded", "loaded", "loaded"))
    shares = LotShare.objects.all()
    assert sum(one.share for one in shares) == Decimal("1100.00")
    costs = MachineCost.objects.values_list("stay").annotate(Sum("amount"))
    assert {one.stay_id: one.share for one in shares if one.machine} == dict(costs.order_by())
    assert set(MachineCost.objects.values_list("sort", flat=True)) == {"purchase", "haul"}
    assert sum(one.share for one in shares if one.goods) > 0


def test_what_did_not_come_costs_nothing_and_a_swapped_one_has_the_serial_that_was_scanned():
    take(loaded("loaded", "missing", "left", "swapped"))
    assert LotShare.objects.exclude(machine=None).count() == 2
    assert Unit.objects.filter(serial="CV99999").exists()


def test_one_that_was_met_on_the_floor_is_that_machine():
    made = loaded("loaded")
    unit = UnitFactory(model=made.lines.get(sort="machine").model)
    LotMachine.objects.update(unit=unit)
    take(made)
    assert Stay.objects.get().unit == unit


def test_taken_in_twice_it_is_taken_in_once():
    made = take(loaded("loaded"))
    take(made)
    assert Stay.objects.count() == 1
    assert made.log.filter(state="taken-in").count() == 1


def test_a_lot_is_valued_before_it_is_split():
    with pytest.raises(LotError, match="Value the lot first"):
        take(loaded("loaded", value=False))


def test_a_lot_still_on_its_floor_is_not_taken_in():
    made = loaded("loaded")
    Lot.objects.filter(pk=made.pk).update(state="paid")
    with pytest.raises(LotError, match="on the truck"):
        take(made)


def test_where_one_machine_cannot_come_nothing_is_written():
    made = loaded("loaded", "loaded")
    unit = UnitFactory(
        model=made.lines.get(sort="machine").model, serial="CV00002", serial_key="CV00002"
    )
    Stay.objects.create(
        unit=unit, came="repair", came_on=TODAY, came_by=PersonFactory(), owner=made.seller
    )
    with pytest.raises(LotError, match="CV00002"):
        take(made)
    assert Stay.objects.count() == 1
    assert not LotShare.objects.exists()


def sell(stay, fetched, days):
    end_stay(
        stay=stay,
        left="sold",
        on=stay.came_on + timedelta(days=days),
        document="INV1",
        by=PersonFactory(),
        fetched=Decimal(fetched),
    )


def test_a_past_lot_is_judged_once_its_last_machine_has_left():
    take(loaded("loaded", "loaded"))
    first, second = Stay.objects.order_by("pk")
    sell(first, 900, 30)
    assert past_lots().open == 1
    sell(second, 800, 60)
    (one,) = past_lots().lots
    months = [30 / 30.4375, 60 / 30.4375]
    storing = months[0] * (12 + 0.01 * 900) + months[1] * (12 + 0.01 * 800)
    plates = float(LotShare.objects.get(machine=None).value)
    assert one.realised == pytest.approx(1700 - storing + plates - 99.99)
    assert 0 <= one.rank <= 1
    assert sum(past_lots().tenths) == 1


def test_goods_of_a_past_lot_count_at_what_they_were_sold_for():
    """A third of 900 lb sold at 0.85 each is 255.00; the rest stays at its share of the value; what
    is then lost brought nothing."""
    take(loaded("loaded"))
    sell(Stay.objects.get(), 900, 30)
    heap, value = Goods.objects.get(), float(LotShare.objects.get(machine=None).value)
    before = past_lots().lots[0].realised
    done = {"on": TODAY, "by": PersonFactory(), "at": MORNING}
    sell_goods(
        goods=heap, bargain=Bargain(Decimal(300), Decimal("0.85")), paid=Paid("cash"),
        customer=CustomerFactory(), key=uuid.uuid4(), **done,
    )  # fmt: skip
    assert past_lots().lots[0].realised == pytest.approx(before - value / 3 + 255)
    lost = Leaving(Decimal(600), GoodsOut.Reason.LOST, heap.number, "stolen from the yard")
    take_goods(goods=heap, leaving=lost, key=uuid.uuid4(), **done)
    assert past_lots().lots[0].realised == pytest.approx(before - value + 255)


def test_a_bid_made_after_the_price_was_agreed_foretells_nothing():
    made = take(loaded("loaded"))
    sell(Stay.objects.get(), 900, 30)
    first = past_lots().lots[0]
    late = valued(made, at=MORNING + timedelta(days=1), typed={"price_factor": 3.0})
    assert late.figures["net"][50] != first.middle
    assert past_lots().lots[0].middle == first.middle


def test_a_lot_that_nobody_had_valued_when_its_price_was_agreed_is_not_judged():
    made = loaded("loaded", value=False)
    valued(made, at=MORNING + timedelta(days=1))
    take(made)
    sell(Stay.objects.get(), 900, 30)
    assert (past_lots().lots, past_lots().open, past_lots().unvalued) == ([], 0, 1)


def test_the_share_within_has_its_exact_interval():
    take(loaded("loaded"))
    sell(Stay.objects.get(), 900, 30)
    record = past_lots()
    assert (record.within, record.bounds) in [(1, (2, 100)), (0, (0, 98))]


@pytest.fixture
def owner(client):
    ShopProfileFactory()
    client.force_login(PersonFactory(seats=["owner"]))
    return client


def test_the_owner_takes_a_lot_in_on_a_page_that_shows_the_split(owner):
    made = loaded("loaded", "loaded")
    page = owner.get(reverse("lot-take-in", args=[made.pk]))
    assert sum(one.share for one in page.context["things"]) == made.agreed + page.context["haul"]
    answer = owner.post(reverse("lot-take-in", args=[made.pk]), {"haul": "120"})
    assert answer.url == made.get_absolute_url()
    assert Stay.objects.count() == 2


def test_a_haul_below_nothing_is_told_at_its_field(owner):
    answer = owner.post(reverse("lot-take-in", args=[loaded("loaded").pk]), {"haul": "-1"})
    assert answer.status_code == 422
    assert answer.context["form"].errors["haul"]


def test_the_record_shows_past_lots_within_their_queries(owner, django_assert_max_num_queries):
    take(loaded("loaded"))
    sell(Stay.objects.get(), 900, 30)
    with django_assert_max_num_queries(12):
        page = owner.get(reverse("lots-record")).text
    assert "the whole floor" in page
    assert "In which tenth" in page
