"""What the technician does in the story: inspect, take parts, write time, test."""

import uuid
from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from parts.answers.selectors import newest_prices
from parts.buying.services import ReceivedLine, add_supplier, receive_parts
from parts.stock.selectors import on_hand
from parts.stock.services import find_or_add_bin
from shop.front.demo.story import Story, table
from shop.work.models import EstimateLine, WorkOrder
from shop.work.services.inspecting import inspect_job
from shop.work.services.labour import add_time
from shop.work.services.parts_used import take_part
from units.inspections.models import Inspection, ProtocolStep
from units.inspections.services import finish_inspection, record_result


def key(*words) -> uuid.UUID:
    """A once-only key that is the same whenever the story is told."""
    return uuid.uuid5(uuid.NAMESPACE_URL, "underbelt-demo/" + "/".join(map(str, words)))


def inspect(story: Story, job: WorkOrder, occasion: str, plot: str, at: datetime) -> Inspection:
    """Answer every step: as the plot says, else as sound."""
    told = table("plots.toml")[plot] if occasion == "arrival" else {}
    inspection = inspect_job(job=job, occasion=occasion, by=story.bench, at=at)
    for step in inspection.protocol.steps.all():
        answer = _answer(step, told, job.pk)
        record_result(inspection=inspection, step=step, by=story.bench, at=at, **answer)
    return finish_inspection(inspection=inspection, by=story.bench, at=at)


def _answer(step: ProtocolStep, told: dict, salt: int) -> dict:
    if reason := told.get("not_possible", {}).get(step.key):
        return {"outcome": "not-possible", "reason": reason}
    found = told.get("found", {}).get(step.key)
    if step.answer == ProtocolStep.Answer.MEASURE:
        return {"value": Decimal(found) if found else _sound_value(step, salt)}
    sound = next(one["condition"] for one in step.conditions if one["passes"])
    return {"condition": found or sound}


def _sound_value(step: ProtocolStep, salt: int) -> Decimal:
    """A value within the step's limits that differs a little from job to job."""
    if step.key == "hours":
        return Decimal(180 + salt * 137 % 2600)
    share = Decimal(35 + salt * 7 % 40) / 100
    low = step.low if step.low is not None else Decimal(0)
    high = step.high if step.high is not None else low * 2 + 10
    return (low + (high - low) * share).quantize(Decimal("0.1"))


def order_missing_parts(story: Story, lines: list[EstimateLine], at: datetime) -> None:
    """What the shelf lacks arrives from its maker."""
    there = on_hand({line.part for line in lines})
    for line in lines:
        if there.get(line.part_id, Decimal(0)) >= line.quantity:
            continue
        receive(story, [line.part], line.quantity, f"order for {line.estimate_id}", at)


def receive(story: Story, parts, quantity: Decimal, reference: str, at: datetime) -> None:
    by_supplier = {}
    prices = newest_prices(parts, at.date())
    for part in parts:
        price = prices[part.pk]
        by_supplier.setdefault(price.party, []).append((part, price.cost))
    for supplier, bought in by_supplier.items():
        receive_parts(
            supplier=add_supplier(name=supplier),
            lines=[
                ReceivedLine(part, _bin_of(part), quantity, cost.quantize(Decimal("0.01")))
                for part, cost in bought
            ],
            reference=reference,
            on=at.date(),
            key=key("receipt", supplier, reference, *(part.pk for part, _ in bought)),
            by=story.bench,
            at=at,
        )


def _bin_of(part):
    return find_or_add_bin(name=f"{'ABCDEF'[part.pk % 6]}{part.pk % 9 + 1}")


def take_parts(story: Story, job: WorkOrder, lines: list[EstimateLine], at: datetime) -> None:
    for line in lines:
        take_part(
            job=job,
            part=line.part,
            quantity=line.quantity,
            line=line,
            key=key("part", job.number, line.pk),
            by=story.bench,
            at=at,
        )


def write_time(story: Story, job: WorkOrder, lines: list[EstimateLine], at: datetime) -> None:
    planned = sum(line.minutes or 0 for line in lines) or 30
    add_time(
        job=job,
        minutes=planned + job.pk * 11 % 25 - 10 if planned > 20 else planned,
        worked_on=at.date(),
        note="as estimated",
        key=key("time", job.number),
        by=story.bench,
        at=at,
    )


def stock_up(story: Story, parts: list) -> Iterator[datetime]:
    """Five rounds of buying for the shelf: what wears, of the models seen most."""
    for number, ago in enumerate((428, 330, 235, 140, 52)):
        at = story.at(ago, 8)
        yield at
        chosen = [part for index, part in enumerate(parts) if index % 5 == number][:14]
        receive(story, chosen, Decimal(2 + number % 2), f"stock round {number + 1}", at)
