"""What is known of our own machines, for the conditions of every exit."""

import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from django.db.models import Count, Exists, F, OuterRef, Q, QuerySet, Subquery, Sum, Value
from django.db.models.functions import Coalesce, JSONObject
from django.utils import timezone

from parts.answers.selectors import support_of
from shop.floor.models import MachineCost, Stay
from shop.resale.domain.readiness import Disclosed, Facts, held_through
from shop.resale.models import (
    AskingPrice,
    Disclosure,
    Grading,
    HoldingRule,
    Reservation,
    Waiver,
)
from shop.resale.querysets import Gathered
from shop.work.models import PartUse, TimeEntry, WorkOrder
from units.inspections.models import Inspection, StepResult
from units.inspections.selectors import standing_findings
from units.plates.models import PlateRecord
from units.recalls.models import RecallCheck
from units.recalls.selectors import CONFIRMED, OPEN, matches_of
from units.rows.fields import MoneyField


def with_facts(stays: QuerySet[Stay], on: date) -> QuerySet[Stay]:
    """Stays with what one query can tell of them."""
    return _with_papers(_with_work(stays), on)


def _with_work(stays: QuerySet[Stay]) -> QuerySet[Stay]:
    checks = RecallCheck.objects.filter(unit=OuterRef("unit"))
    gradings = Grading.objects.filter(stay=OuterRef("pk"))
    prices = AskingPrice.objects.filter(stay=OuterRef("pk"))
    uses = PartUse.objects.filter(job__unit=OuterRef("unit"))
    # One bounded by the work of a job says nothing of the rest: a sale needs the whole test.
    tests = _inspections("final").filter(asked__isnull=True)
    return stays.select_related("unit__maker", "unit__model__maker", "unit__model__kind").annotate(
        plate_confirmed=Exists(PlateRecord.objects.filter(unit=OuterRef("unit"))),
        sale_photos=Count(
            "unit__photos",
            filter=Q(unit__photos__shows="sale", unit__photos__taken_at__date__gte=F("came_on")),
        ),
        recall_outcome=_newest(checks, "outcome"),
        recall_checked_on=_newest(checks, "checked_on"),
        inspected_at=_newest(_inspections("arrival"), "finished_at"),
        tested_at=_newest(tests, "finished_at"),
        test_failed=_newest(tests.annotate(failed=_failed()), "failed"),
        open_job=_newest(WorkOrder.objects.open().filter(unit=OuterRef("unit")), "number"),
        part_at=_last(uses, "move__recorded_at"),
        put_back_at=_last(uses, "move__reversed_by__recorded_at"),
        time_at=_last(TimeEntry.objects.filter(job__unit=OuterRef("unit")), "recorded_at"),
        grade=_newest(gradings, "grade"),
        cleaned=_newest(gradings, "cleaned"),
        key_present=_newest(gradings, "safety_key_present"),
        price=_newest(prices, "price"),
        floor=_newest(prices, "floor"),
        price_reason=_newest(prices, "reason"),
    )


def _with_papers(stays: QuerySet[Stay], on: date) -> QuerySet[Stay]:
    """What was written down so that they may leave, and what they cost."""
    costs = MachineCost.objects.filter(stay=OuterRef("pk")).order_by().values("stay")
    held = Reservation.objects.filter(stay=OuterRef("pk"), over_at=None)
    rules = HoldingRule.objects.filter(from_on__lte=on)
    return stays.annotate(
        cost=Coalesce(
            Subquery(costs.annotate(sum=Sum("amount")).values("sum")),
            Value(0),
            output_field=MoneyField(),
        ),
        reserved_for=_newest(held, "customer__name"),
        reserved_customer=_newest(held, "customer"),
        reserved_until=_newest(held, "until_on"),
        reserved_deposit=_newest(held, "deposit__amount"),
        holding_days=_newest(rules, "days"),
        papers=_gathered(Disclosure, "pk", "exit", "faults", "support"),
        waived=_gathered(Waiver, "exit", "condition", "names"),
    )


def _gathered(model, *fields: str) -> Subquery:
    """The rows of a stay, whole, as one list."""
    rows = model.objects.filter(stay=OuterRef("pk")).order_by().values("stay")
    row = JSONObject(**{field: field for field in fields})
    return Subquery(rows.annotate(all=Gathered(row)).values("all"))


def _inspections(occasion: str) -> QuerySet[Inspection]:
    """The finished inspections of this occasion, the newest first."""
    finished = Inspection.objects.filter(unit=OuterRef("unit"), finished_at__isnull=False)
    return finished.filter(protocol__occasion=occasion).order_by("-finished_at", "-pk")


def _failed() -> Exists:
    """Whether a step of the inspection was not passed."""
    return Exists(StepResult.objects.filter(inspection=OuterRef("pk")).exclude(outcome="pass"))


def _newest(rows: QuerySet, field: str) -> Subquery:
    """The field of the newest row, by the order that its model has."""
    return Subquery(rows.values(field)[:1])


def _last(rows: QuerySet, field: str) -> Subquery:
    filled = rows.filter(**{f"{field}__isnull": False})
    return Subquery(filled.order_by(f"-{field}").values(field)[:1])


def facts_of(stays: Sequence[Stay], on: date) -> dict[int, Facts]:
    """Facts by stay, for stays that :func:`with_facts` read. Constant queries."""
    units = [stay.unit for stay in stays]
    recalls = matches_of(units)
    standing = standing_findings(units)
    support = support_of({unit.model for unit in units}, on)
    return {
        stay.pk: _facts(
            stay,
            on,
            recalls.get(stay.unit_id, ()),
            standing.get(stay.unit_id, ()),
            support[stay.unit.model_id],
        )
        for stay in stays
    }


def _facts(stay, on, recalls, standing, support) -> Facts:
    model, kind = stay.unit.model, stay.unit.model.kind
    tested_at = _since_it_came(stay, stay.tested_at)
    return Facts(
        on=on,
        plate_confirmed=stay.plate_confirmed,
        recall_outcome=stay.recall_outcome or "",
        recall_checked_on=stay.recall_checked_on,
        recalls_open=_numbers(recalls, OPEN),
        recalls_confirmed=_numbers(recalls, CONFIRMED),
        open_job=stay.open_job or "",
        inspected_at=_since_it_came(stay, stay.inspected_at),
        tested_at=tested_at,
        test_passed=tested_at is not None and not stay.test_failed,
        worked_at=_latest(stay.part_at, stay.put_back_at, stay.time_at),
        standing=_components(standing),
        safety=_components(finding for finding in standing if finding.holds),
        faults=tuple(dict.fromkeys(_fault(finding) for finding in standing)),
        support=str(support.status),
        support_fresh=support.fresh,
        support_given_on=support.given_on,
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
        **_of_papers(stay),
    )


def _of_papers(stay) -> dict:
    bought = stay.came == Stay.Came.PURCHASE
    return {
        "held_through": held_through(stay.came_on, stay.holding_days or 0) if bought else None,
        "reserved_for": stay.reserved_for or "",
        "reserved_until": stay.reserved_until,
        "papers": _newest_papers(stay.papers or []),
        "waived": _waivers(stay.waived or []),
    }


def _newest_papers(rows: list[dict]) -> dict[str, Disclosed]:
    """By exit; of several the last that was attached."""
    return {
        row["exit"]: Disclosed(tuple(map(tuple, _listed(row["faults"]))), row["support"])
        for row in sorted(rows, key=lambda row: row["pk"])
    }


def _waivers(rows: list[dict]) -> dict[tuple[str, str], list[frozenset[str]]]:
    found = defaultdict(list)
    for row in rows:
        found[row["exit"], row["condition"]].append(frozenset(_listed(row["names"])))
    return dict(found)


def _listed(value: list | str) -> list[str]:
    """A list inside a list: one database hands it up as such, the other as its text."""
    return json.loads(value) if isinstance(value, str) else value


def _components(findings: Iterable) -> tuple[str, ...]:
    return tuple(dict.fromkeys(finding.component.name for finding in findings))


def _fault(finding) -> tuple[str, str]:
    """Component and fault in the words of the tables: they are translated where they are shown."""
    return finding.component.name, finding.label


def _numbers(matches, state: str) -> tuple[str, ...]:
    return tuple(match.recall.number for match in matches if match.state == state)


def _latest(*moments: datetime | None) -> datetime | None:
    return max((moment for moment in moments if moment), default=None)


def _since_it_came(stay: Stay, moment: datetime | None) -> datetime | None:
    if moment and timezone.localdate(moment) >= stay.came_on:
        return moment
    return None
