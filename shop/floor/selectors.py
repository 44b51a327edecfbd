import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache

from django.conf import settings
from django.db.models import Count, Min, OuterRef, Q, QuerySet, Subquery, Sum

from shop.floor.domain.worth import Belief, Like, Sold, Worth, read_belief, worth_of
from shop.floor.models import Goods, MachineCost, Move, Spot, Stay
from shop.people.models import Customer
from shop.till.selectors import discharged
from units.catalogue.models import MachineModel, Unit

MOVES_SHOWN = 20


def costs_so_far(stays: Iterable[Stay]) -> dict[int, Decimal]:
    """``{stay id: what the machine cost us}`` for every stay asked for, in one query."""
    ids = [stay.pk for stay in stays]
    sums = (
        MachineCost.objects.filter(stay__in=ids)
        .order_by()
        .values_list("stay")
        .annotate(Sum("amount"))
    )
    return dict.fromkeys(ids, Decimal(0)) | dict(sums)


def stays_here() -> QuerySet[Stay]:
    """Every machine that is with us, with what names it and whose it is."""
    return Stay.objects.here().select_related("unit__model__maker", "owner")


def open_stays(units: Iterable[Unit]) -> dict[int, Stay]:
    """``{unit id: the stay that has not ended}`` of those that are here, in one query."""
    rows = stays_here().filter(unit__in=[unit.pk for unit in units])
    return {stay.unit_id: stay for stay in rows}


@dataclass(frozen=True)
class StandPage:
    """Where a machine stands, where it can be put, and where it stood, newest first."""

    stay: Stay
    spots: list[Spot]
    moves: list[Move]


def stand_page(pk: int) -> StandPage:
    """Three queries. Raises Stay.DoesNotExist."""
    stay = Stay.objects.select_related("unit__model__maker", "unit__maker", "owner").get(pk=pk)
    moves = stay.moves.select_related("spot", "moved_by")
    return StandPage(stay, list(Spot.objects.filter(in_use=True)), list(moves[:MOVES_SHOWN]))


def spots_with_machines() -> QuerySet[Spot]:
    """The spots in use, each with ``standing``: how many machines stand there. One query."""
    here = Stay.objects.here().filter(stands_at=OuterRef("name")).order_by()
    count = here.values("stands_at").annotate(count=Count("pk")).values("count")
    return Spot.objects.filter(in_use=True).annotate(standing=Subquery(count))


@cache
def beliefs() -> Belief:
    """What is believed of prices until sales tell, from ``worth.toml``."""
    path = settings.BASE_DIR / "fixtures" / "reference" / "worth.toml"
    return read_belief(tomllib.loads(path.read_text(encoding="utf-8")))


def worths(stays: Iterable[Stay], on: date) -> dict[int, Worth | None]:
    """``{stay id: what the machine would fetch at retail, put right}``. Stays come with their
    model. One query, whatever the number."""
    stays = list(stays)
    asked = {stay.pk: _like(stay, on) for stay in stays}
    sold = sold_like(asked.values(), on)
    return {pk: worth_of(machine, sold, beliefs()) for pk, machine in asked.items()}


def worth_of_model(model: MachineModel, on: date, made_in: int | None = None) -> Worth | None:
    """What a machine of the model would fetch at retail, put right; of one that may never have
    stood here as our own. One query."""
    machine = Like(model.pk, model.kind_id, model.grade, made_in and on.year - made_in)
    return worth_of(machine, sold_like([machine], on), beliefs())


def sold_like(machines: Iterable[Like], on: date) -> list[Sold]:
    """Retail sales, before that day, of machines of the same kinds and grades."""
    wanted = Q(pk=None)
    for kind, grade in {(one.kind, one.grade) for one in machines}:
        wanted |= Q(unit__model__kind=kind, unit__model__grade=grade)
    rows = Stay.objects.filter(wanted, left=Stay.Left.SOLD, left_on__lte=on, fetched__gt=0)
    rows = rows.select_related("unit__model").order_by("left_on", "pk")
    return [Sold(_like(stay, stay.left_on), stay.fetched) for stay in rows]


def _like(stay: Stay, on: date) -> Like:
    model = stay.unit.model
    age = None if stay.made_in is None else max(0, on.year - stay.made_in)
    return Like(model.merged_into_id or model.pk, model.kind_id, model.grade, age)


@dataclass(frozen=True)
class Owed:
    """What a seller is owed for a purchase; below nothing where he was paid more, or ahead."""

    document: str
    seller: Customer
    bought_on: date
    price: Decimal
    owed: Decimal


def sellers_owed() -> list[Owed]:
    """Every purchase under which something is owed, the oldest first. Four queries."""
    found = [one for one in _purchases() if one.owed]
    return sorted(found, key=lambda one: (one.bought_on, one.document))


def owed_for(document: str) -> Owed | None:
    """What is owed for one purchase. Four queries."""
    return next(iter(_purchases(document=document)), None)


def _purchases(**which) -> list[Owed]:
    """Machines and goods by the document that they were bought under, less what was paid of it."""
    costs = MachineCost.objects.filter(sort=MachineCost.Sort.PURCHASE, **which).order_by()
    costs = costs.values_list("document", "stay__came_from")
    costs = costs.annotate(Sum("amount"), Min("spent_on"))
    goods = Goods.objects.filter(**which).order_by().values_list("document", "came_from")
    goods = goods.annotate(Sum("cost"), Min("came_on"), Sum("haul"))
    sums: dict[str, tuple] = {}
    for document, seller, cost, on, *haul in [*costs, *goods]:
        before, since = sums.get(document, (seller, Decimal(0), on))[1:]
        sums[document] = (seller, before + cost - sum(haul), min(since, on))
    sellers = Customer.objects.in_bulk({seller for seller, _price, _on in sums.values() if seller})
    paid = discharged(which.values() or None)
    return [
        Owed(document, sellers[seller], on, price, price - paid.get(document, Decimal(0)))
        for document, (seller, price, on) in sums.items()
        if seller
    ]
