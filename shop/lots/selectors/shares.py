"""The price of a loaded lot as it is split over its things, and how past lots came out."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Sum

from shop.floor.models import Goods, MachineCost, Stay
from shop.lots.domain.judging import Share, exact_share, rank_histogram, within
from shop.lots.domain.pictures import Picture, tenths_picture
from shop.lots.domain.realised import Fared, goods_came, rank_in, realised_net
from shop.lots.domain.splitting import haul_within, split_lump
from shop.lots.models import Lot, LotLine, LotMachine, LotShare, LotStep, Valuation
from shop.lots.selectors.bids import newest_valuation
from shop.lots.selectors.lots import goods_of
from shop.till.models import Invoice

GONE = (LotMachine.Fate.MISSING, LotMachine.Fate.LEFT)
BOUGHT = (MachineCost.Sort.PURCHASE, MachineCost.Sort.HAUL)
DAYS_IN_MONTH = 30.4375
MIDDLE = 0.8


@dataclass(frozen=True)
class Thing:
    """A machine or a line of goods of a loaded lot: its value, its share of price and haul, and how
    much of that share is for the haul."""

    name: str
    value: Decimal
    share: Decimal
    haul: Decimal = Decimal(0)
    machine: LotMachine | None = None
    goods: LotLine | None = None


def split_of(lot: Lot, price: Decimal, haul: Decimal) -> list[Thing]:
    """What each thing that was loaded costs us: price and haul by relative value, to the cent.

    Empty where the lot was never valued. Three queries.
    """
    valuation = newest_valuation(lot)
    if valuation is None:
        return []
    return _split(_loaded(listed_things(lot, valuation)), price, haul)


def listed_parts(lot: Lot) -> list[Thing]:
    """What part of the agreed price each thing has as it was listed, there or not, by what each is
    worth: so much comes off where it is missing.

    Empty where the lot was never valued. Three queries.
    """
    valuation = newest_valuation(lot)
    if valuation is None:
        return []
    return _split(listed_things(lot, valuation), lot.agreed or Decimal(0), Decimal(0))


def listed_things(lot: Lot, valuation: Valuation) -> list[Thing]:
    """Every machine and line of goods as the list has it, with its value. Two queries."""
    worths = valuation.figures["worths"]
    return [*_machines(lot, worths), *_goods(lot, worths)]


def _loaded(things: Iterable[Thing]) -> list[Thing]:
    """What came of them: machines that are not gone, and so much of the goods as was found."""
    came = []
    for one in things:
        seen = getattr(one.goods, "at_truck", None)
        if (one.machine and one.machine.fate in GONE) or (seen and not seen.found):
            continue
        came.append(replace(one, value=one.value * seen.found / seen.listed) if seen else one)
    return came


def _split(things: list[Thing], price: Decimal, haul: Decimal) -> list[Thing]:
    values = {place: one.value for place, one in enumerate(things)}
    shares = split_lump(price, haul, values) if things else {}
    hauls = haul_within(shares, haul) if things else {}
    return [
        replace(one, share=shares[place], haul=hauls[place]) for place, one in enumerate(things)
    ]


def _machines(lot: Lot, worths: dict[str, float]) -> list[Thing]:
    rows = LotMachine.objects.filter(line__lot=lot).select_related(
        "line__model__maker", "line__model__merged_into__maker", "line__kind", "unit"
    )
    return [
        Thing(str(one), _value(worths, one), Decimal(0), machine=one)
        for one in rows.order_by("line__position", "place")
    ]


def _value(worths: dict[str, float], machine: LotMachine) -> Decimal:
    """What it was valued at by itself, or with the others of its line; never below nothing."""
    line = machine.line.position
    keys = (f"{line}/{machine.place}-1", f"{line}-{machine.place}", f"{line}-1")
    worth = next((worths[key] for key in keys if key in worths), 0.0)
    return max(Decimal(0), Decimal(str(worth)))


def _goods(lot: Lot, worths: dict[str, float]) -> list[Thing]:
    return [
        Thing(line.named, Decimal(str(worths.get(f"{line.position}", 0.0))), Decimal(0), goods=line)
        for line in goods_of(lot)
    ]


@dataclass(frozen=True)
class PastLot:
    """A lot all of whose machines have left: predicted and realised, but for the price paid."""

    lot: Lot
    low: float
    middle: float
    high: float
    realised: float
    rank: float

    @property
    def held(self) -> bool:
        return within(self.rank, MIDDLE)


@dataclass(frozen=True)
class Record:
    """How past lots came out; ``open`` are those of which a machine is still here, ``unvalued``
    those that nobody had valued when their price was agreed."""

    lots: list[PastLot]
    open: int
    unvalued: int

    @property
    def tenths(self) -> list[int]:
        return rank_histogram([one.rank for one in self.lots])

    @property
    def picture(self) -> Picture:
        return tenths_picture(self.tenths)

    @property
    def within(self) -> int:
        return sum(one.held for one in self.lots)

    @property
    def held(self) -> Share | None:
        """The share that came within the middle, with its exact interval."""
        return exact_share(self.within, len(self.lots)) if self.lots else None

    @property
    def bounds(self) -> tuple[int, int]:
        """Of 100, outwards."""
        return math.floor(100 * self.held.low), math.ceil(100 * self.held.high)


def past_lots() -> Record:
    """Every lot taken in, judged once its last machine has left. Eight queries."""
    lots = list(Lot.objects.filter(state=Lot.State.TAKEN).order_by("-offered_on", "-pk"))
    loaded = LotStep.objects.filter(lot__in=lots, state=Lot.State.LOADED)
    prices = dict(loaded.order_by("pk").values_list("lot", "amount"))
    shares = LotShare.objects.filter(lot__in=lots).select_related("stay", "goods")
    by_lot: dict[int, list[LotShare]] = {}
    for one in shares:
        by_lot.setdefault(one.lot_id, []).append(one)
    spent = _spent([one.stay for one in shares if one.stay])
    came = _goods_came([one for one in shares if one.goods_id])
    valued = _valuations(lots)
    done = [one for one in lots if one.pk in valued and _is_over(by_lot.get(one.pk, ()))]
    past = [
        _past(one, by_lot[one.pk], prices.get(one.pk), (spent, came), valued[one.pk])
        for one in done
    ]
    unvalued = sum(one.pk not in valued for one in lots)
    return Record(past, len(lots) - len(past) - unvalued, unvalued)


def _valuations(lots: Iterable[Lot]) -> dict[int, Valuation]:
    """The newest valuation of each lot that was reckoned from its list before its price was agreed:
    one made later knows what it should have foretold. Two queries."""
    steps = LotStep.objects.filter(lot__in=lots, state=Lot.State.AGREED).order_by("pk")
    agreed = dict(steps.values_list("lot", "recorded_at"))
    rows = Valuation.objects.filter(lot__in=lots, state=Valuation.State.DONE, again_of=None)
    rows = rows.order_by("wanted_at", "pk")
    return {
        one.lot_id: one
        for one in rows
        if one.lot_id in agreed and one.wanted_at <= agreed[one.lot_id]
    }


def _is_over(shares: Iterable[LotShare]) -> bool:
    stays = [one.stay for one in shares if one.stay]
    return bool(stays) and all(stay.left_on for stay in stays)


def _spent(stays: Iterable[Stay]) -> dict[int, tuple[float, float]]:
    """By stay: what parts and labour cost, and what it carried to its pieces. One query."""
    found: dict[int, tuple[float, float]] = {}
    rows = MachineCost.objects.filter(stay__in=list(stays)).order_by()
    for stay, sort, amount in rows.values_list("stay", "sort", "amount"):
        put, pieces = found.get(stay, (0.0, 0.0))
        if sort == MachineCost.Sort.STRIPPED:
            pieces -= float(amount)
        elif sort not in BOUGHT:
            put += float(amount)
        found[stay] = (put, pieces)
    return found


def _goods_came(shares: Iterable[LotShare]) -> dict[int, float]:
    """By line of goods: what came of them. Two queries."""
    heaps = Goods.objects.with_rest().filter(key__in=[one.goods.heap_key for one in shares])
    heaps = {one.key: one for one in heaps}
    numbers = [one.number for one in heaps.values()]
    invoices = Invoice.objects.filter(document__in=numbers).order_by().values_list("document")
    sold = dict(invoices.annotate(Sum("net")))
    found = {}
    for one in shares:
        heap = heaps.get(one.goods.heap_key)
        left = float(heap.left / heap.quantity) if heap else 1.0
        fetched = float(sold.get(heap.number, 0)) if heap else 0.0
        found[one.goods_id] = goods_came(fetched, float(one.value), left)
    return found


def _past(lot: Lot, shares: list[LotShare], price, ended, valuation: Valuation) -> PastLot:
    """``ended`` is what was spent by stay, and what came of goods by line."""
    spent, came = ended
    figures, assumptions = valuation.figures, valuation.inputs["assumptions"]
    machines = [_fared(one.stay, *spent.get(one.stay_id, (0.0, 0.0))) for one in shares if one.stay]
    goods = sum(came[one.goods_id] for one in shares if one.goods_id)
    haul = float(sum(one.share for one in shares) - (price or 0))
    net = realised_net(machines, goods, haul, assumptions["storage"], assumptions["money"])
    kept = figures["net"]
    return PastLot(lot, kept[10], kept[50], kept[90], net, rank_in(kept, net))


def _fared(stay: Stay, spent: float, pieces: float) -> Fared:
    months = (stay.left_on - stay.came_on).days / DAYS_IN_MONTH
    return Fared(float(stay.fetched or 0) + pieces, spent, months)
