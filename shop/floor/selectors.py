from collections.abc import Iterable
from decimal import Decimal

from django.db.models import QuerySet, Sum

from shop.floor.models import MachineCost, Stay
from units.catalogue.models import Unit


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
