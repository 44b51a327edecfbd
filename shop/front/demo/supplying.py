"""Price lists, orders and what came of them, returns, exchanges, and a machine taken apart."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from django.core.files.uploadedfile import SimpleUploadedFile

from parts.answers.selectors import newest_prices
from parts.buying.models import PurchaseOrder
from parts.buying.selectors import Chosen
from parts.buying.services import (
    ArrivedLine,
    OrderedLine,
    add_offer,
    cancel_rest,
    keep_list,
    load_list,
    order_exchange,
    order_parts,
    receive_order,
    return_to_supplier,
    step_exchange,
)
from parts.fits.models import Part
from parts.stock.services import StripLine
from shop.floor.models import Stay
from shop.front.demo.bench import key
from shop.front.demo.story import FOLDER, Story, table
from shop.resale.services import strip_own
from shop.work.models import WorkOrder
from units.catalogue.models import Component, MachineModel


def supplying(story: Story, models: dict[str, MachineModel]) -> list[Iterator[datetime]]:
    told = table("supply.toml")
    threads = [_list(story, row) for row in told["lists"]]
    threads += [_order(story, row, number) for number, row in enumerate(told["orders"])]
    return threads + [
        _exchange(story, row, number, models) for number, row in enumerate(told["exchanges"])
    ]


def _list(story: Story, row: dict) -> Iterator[datetime]:
    """A supplier's list, with whatever of it can be read."""
    at = story.at(row["ago"], 8)
    yield at
    upload = SimpleUploadedFile(row["file"], (FOLDER / row["file"]).read_bytes())
    act = {"by": story.desk, "at": at}
    kept = keep_list(supplier=row["supplier"], upload=upload, given_on=at.date(), **act)
    load_list(price_list=kept, chosen=Chosen(), only_good=True, **act)


def _order(story: Story, row: dict, number: int) -> Iterator[datetime]:
    at = story.at(row["ago"], 10, 30)
    yield at
    order = order_parts(
        supplier=row["supplier"],
        lines=[_ordered(story, line, row, at) for line in row["lines"]],
        note=row.get("note", ""),
        on=at.date(),
        key=key("order", number),
        by=story.desk,
        at=at,
    )
    lines = list(order.lines.select_related("part").order_by("pk"))
    receipts = []
    for came in row.get("came", []):
        at = story.at(came["ago"], 8, 45)
        yield at
        receipts.append(_came(story, order, lines, came, at))
    for back in row.get("back", []):
        at = story.at(back["ago"], 14)
        yield at
        _back(story, receipts[0].lines.get(order_line=lines[back["line"]]), back, at)
    if cancelled := row.get("cancelled"):
        at = story.at(cancelled["ago"], 11)
        yield at
        for line in lines:
            cancel_rest(line=line, reason=cancelled["reason"], by=story.desk, at=at)


def _ordered(story: Story, line: dict, row: dict, at: datetime) -> OrderedLine:
    part = Part.objects.get(number=line["part"])
    expected = line.get("expected_ago")
    return OrderedLine(
        part=part,
        quantity=Decimal(line["quantity"]),
        unit_cost=newest_prices([part], at.date())[part.pk].cost,
        demand=_waiting_job(row["waits"]) if "waits" in row else "",
        expected_on=None if expected is None else story.day(expected),
    )


def _waiting_job(model: str) -> str:
    """The number of the approved job on a machine of this model that waits for its part."""
    return WorkOrder.objects.filter(state="approved", unit__model__number=model).last().number


def _came(story: Story, order: PurchaseOrder, lines, came: dict, at: datetime):
    arrived = [
        ArrivedLine(line, f"{'ABCDEF'[line.part_id % 6]}9", Decimal(quantity), line.unit_cost)
        for line, quantity in zip(lines, came["quantities"], strict=True)
        if Decimal(quantity)
    ]
    return receive_order(
        order=order,
        lines=arrived,
        reference=came["paper"],
        on=at.date(),
        key=key("came", came["paper"]),
        by=story.bench,
        at=at,
    )


def _back(story: Story, receipt_line, back: dict, at: datetime) -> None:
    return_to_supplier(
        receipt_line=receipt_line,
        quantity=Decimal(back["quantity"]),
        reason=back["reason"],
        note=back["note"],
        on=at.date(),
        key=key("back", receipt_line.pk),
        by=story.bench,
        at=at,
    )


def _exchange(story: Story, row: dict, number: int, models: dict) -> Iterator[datetime]:
    """A workshop's offer; some are taken, and the old one goes back."""
    at = story.at(row["said_ago"], 11, 15)
    yield at
    offer = add_offer(
        supplier=row["workshop"],
        core_charge=Decimal(row["core_charge"]),
        core_days=row["core_days"],
        model=models[row["model"]],
        component=Component.objects.get(slug=row["component"]),
        cost=Decimal(row["cost"]),
        lead_days=row["lead_days"],
        given_on=at.date(),
        given_by=row["by"],
        channel="phone",
        by=story.desk,
        at=at,
    )
    if "ordered_ago" not in row:
        return
    at = story.at(row["ordered_ago"], 9, 10)
    yield at
    act = {"by": story.desk, "at": at}
    exchange = order_exchange(
        offer=offer, document="", on=at.date(), key=key("exchange", number), **act
    )
    for step in ("came", "sent"):
        if f"{step}_ago" in row:
            at = story.at(row[f"{step}_ago"], 13)
            yield at
            step_exchange(exchange=exchange, step=step, on=at.date(), by=story.desk, at=at)


def strip(story: Story, stay: Stay, at: datetime) -> None:
    """A machine of ours that may not be sold gives its pieces, if its exit asks for no more."""
    bought = stay.costs.filter(sort="purchase").first()
    strip_own(
        stay=stay,
        lines=[_piece(piece) for piece in table("supply.toml")["strip"]["pieces"]],
        on=at.date(),
        document=bought.document,
        key=key("strip", stay.pk),
        by=story.bench,
        at=at,
    )


def _piece(piece: dict) -> StripLine:
    return StripLine(
        component=Component.objects.get(slug=piece["component"]),
        grade=piece["grade"],
        fate=piece["fate"],
        part=Part.objects.filter(number=piece.get("part")).first(),
        bin_name=piece.get("bin", ""),
        value=Decimal(piece.get("value", "0")),
    )
