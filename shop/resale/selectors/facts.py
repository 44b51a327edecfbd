"""What is known of our own machines, for the conditions of the retail exit."""

from collections.abc import Sequence
from datetime import date, datetime

from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet, Subquery
from django.utils import timezone

from parts.answers.selectors import support_of
from shop.floor.models import Stay
from shop.resale.domain.readiness import Facts
from shop.resale.models import AskingPrice, Grading
from shop.work.models import PartUse, TimeEntry, WorkOrder
from units.inspections.models import Inspection, StepResult
from units.inspections.selectors import standing_findings
from units.plates.models import PlateRecord
from units.recalls.selectors import newest_checks

ARRIVAL, FINAL = "arrival", "final"


def with_facts(stays: QuerySet[Stay]) -> QuerySet[Stay]:
    """Stays with what one query can tell of them."""
    return stays.select_related("unit__model__maker", "unit__model__kind").annotate(
        plate_confirmed=Exists(PlateRecord.objects.filter(unit=OuterRef("unit"))),
        sale_photos=Count(
            "unit__photos",
            filter=Q(unit__photos__shows="sale", unit__photos__taken_at__date__gte=F("came_on")),
        ),
        open_job=_newest(WorkOrder.objects.open().filter(unit=OuterRef("unit")), "number"),
        part_at=_last(PartUse.objects.filter(job__unit=OuterRef("unit")), "move__recorded_at"),
        put_back_at=_last(
            PartUse.objects.filter(job__unit=OuterRef("unit")), "move__reversed_by__recorded_at"
        ),
        time_at=_last(TimeEntry.objects.filter(job__unit=OuterRef("unit")), "recorded_at"),
        grade=_newest(Grading.objects.filter(stay=OuterRef("pk")), "grade"),
        cleaned=_newest(Grading.objects.filter(stay=OuterRef("pk")), "cleaned"),
        key_present=_newest(Grading.objects.filter(stay=OuterRef("pk")), "safety_key_present"),
        price=_newest(AskingPrice.objects.filter(stay=OuterRef("pk")), "price"),
        floor=_newest(AskingPrice.objects.filter(stay=OuterRef("pk")), "floor"),
        price_reason=_newest(AskingPrice.objects.filter(stay=OuterRef("pk")), "reason"),
    )


def _newest(rows: QuerySet, field: str) -> Subquery:
    """The field of the newest row, by the order that its model has."""
    return Subquery(rows.values(field)[:1])


def _last(rows: QuerySet, field: str) -> Subquery:
    filled = rows.filter(**{f"{field}__isnull": False})
    return Subquery(filled.order_by(f"-{field}").values(field)[:1])


def facts_of(stays: Sequence[Stay], on: date) -> dict[int, Facts]:
    """Facts by stay, for stays that :func:`with_facts` read. Constant queries."""
    units = [stay.unit for stay in stays]
    checks = newest_checks(units)
    inspections = _newest_inspections(units)
    standing = standing_findings(units)
    support = support_of({unit.model for unit in units}, on)
    return {
        stay.pk: _facts(
            stay,
            on,
            checks.get(stay.unit_id),
            inspections,
            standing.get(stay.unit_id, ()),
            support[stay.unit.model_id],
        )
        for stay in stays
    }


def _newest_inspections(units) -> dict[tuple[int, str], Inspection]:
    """The newest finished inspection by machine and occasion, with ``failed``."""
    failures = StepResult.objects.filter(inspection=OuterRef("pk")).exclude(outcome="pass")
    rows = (
        Inspection.objects.filter(unit__in=units, finished_at__isnull=False)
        .annotate(failed=Exists(failures), occasion=F("protocol__occasion"))
        .order_by("finished_at", "pk")
    )
    return {(row.unit_id, row.occasion): row for row in rows}


def _facts(stay, on, check, inspections, standing, support) -> Facts:
    model, kind = stay.unit.model, stay.unit.model.kind
    arrival = _since_it_came(stay, inspections.get((stay.unit_id, ARRIVAL)))
    final = _since_it_came(stay, inspections.get((stay.unit_id, FINAL)))
    return Facts(
        on=on,
        plate_confirmed=stay.plate_confirmed,
        recall_outcome=check.outcome if check else "",
        recall_checked_on=check.checked_on if check else None,
        open_job=stay.open_job or "",
        inspected_at=arrival.finished_at if arrival else None,
        tested_at=final.finished_at if final else None,
        test_passed=bool(final and not final.failed),
        worked_at=_latest(stay.part_at, stay.put_back_at, stay.time_at),
        standing=tuple(dict.fromkeys(finding.component.name for finding in standing)),
        support=str(support.status),
        support_fresh=support.fresh,
        has_safety_key=kind.has_safety_key,
        safety_key_present=bool(stay.key_present),
        graded=bool(stay.grade),
        cleaned=bool(stay.cleaned),
        sale_photos=stay.sale_photos,
        plugged_in=kind.has_cord,
        supply_known=bool(model.volts and model.plug),
        price=stay.price,
        floor=stay.floor,
        price_reason=stay.price_reason or "",
    )


def _latest(*moments: datetime | None) -> datetime | None:
    return max((moment for moment in moments if moment), default=None)


def _since_it_came(stay: Stay, inspection: Inspection | None) -> Inspection | None:
    if inspection and timezone.localdate(inspection.finished_at) >= stay.came_on:
        return inspection
    return None
