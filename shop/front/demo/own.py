"""The lives of machines of our own: bought, put right, made ready, sold or gone another way."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from parts.answers.selectors import support_of
from parts.answers.services import record_answer
from shop.floor.models import Stay
from shop.floor.selectors import costs_so_far
from shop.floor.services import pay_purchase
from shop.front.demo import pictures
from shop.front.demo.bench import key
from shop.front.demo.jobs import METHODS, Life, through
from shop.front.demo.standing import put
from shop.front.demo.story import Story, table
from shop.front.demo.supplying import strip
from shop.people.models import Customer
from shop.resale.selectors import exits
from shop.resale.services import (
    Agreed,
    Paid,
    attach_paper,
    dispose_machine,
    record_grading,
    reserve_machine,
    sell_machine,
    set_price,
)
from shop.till.services import Paying
from shop.work.services.estimates import answer_estimate
from shop.work.services.intake import Person, buy_machine
from units.catalogue.services import add_photo
from units.files.services import store_picture
from units.recalls.services import record_check

GRADES = "ABBC"
UNPAID_ONE_IN = 9  # so that some sellers are still owed


def own_life(story: Story, life: Life, buyer: Customer) -> Iterator[datetime]:
    at = life.at(story, 0, 9 + life.number % 7)
    yield at
    stay = buy_machine(
        seller=Person(known=life.customer),
        machine=life.machine(),
        price=life.price,
        came_along=life.came_along(),
        key=key("bought", life.number),
        by=story.owner,
        at=at,
    )
    if life.price and life.number % UNPAID_ONE_IN:
        _pay(story, life, stay, at)

    def made_ready(story, life, job):
        yield from _made_ready(story, life, stay)
        if life.ends in AFTERWARDS:
            yield from AFTERWARDS[life.ends](story, life, stay, buyer)

    yield from through(story, life, stay.jobs.get(), _owner_says, made_ready)


def _pay(story: Story, life: Life, stay: Stay, at: datetime) -> None:
    """The seller is paid as his machine comes in."""
    pay_purchase(
        document=stay.costs.get(sort="purchase").document,
        amount=Decimal(life.price),
        paying=Paying("cash" if life.number % 2 else "transfer"),
        on=at.date(),
        key=key("seller paid", life.number),
        by=story.owner,
        at=at,
    )


def _owner_says(story, life, estimate, yes, at) -> None:
    answer_estimate(
        estimate=estimate, yes=yes, given_by="the owner", channel="counter", by=story.owner, at=at
    )


def _made_ready(story: Story, life: Life, stay: Stay) -> Iterator[datetime]:
    if life.ends == "unsafe":
        at = life.at(story, 16, 10)
        yield at
        strip(story, stay, at)
        return
    at = life.at(story, 9, 10)
    yield at
    record_grading(
        stay=stay,
        grade=GRADES[life.number % 4],
        cleaned=True,
        safety_key_present=life.model.kind.has_safety_key,
        by=story.bench,
        at=at,
    )
    put(story, stay, "graded", at)
    if life.ends in {"nearly", "donated"}:
        return
    picture = store_picture(upload=pictures.machine(life.model.kind_id), by=story.bench, at=at)
    add_photo(unit=stay.unit, file=picture, shows="sale", by=story.bench, at=at)
    at = life.at(story, 10, 9)
    yield at
    cost = costs_so_far([stay]).get(stay.pk, Decimal(0))
    least = (cost * Decimal("1.25")).quantize(Decimal(1)) + 40
    set_price(stay=stay, price=least + 150, floor=least, by=story.owner, at=at)
    put(story, stay, "priced", at)
    if life.ends in {"ready", "reserved"}:
        at = story.at(2, 9)
        yield at
    _ask_before_sale(story, stay, at)


def _ask_before_sale(story: Story, stay: Stay, at) -> None:
    """What a sale needs fresh: is it recalled, can parts be had, and the paper that says so."""
    model = stay.unit.model
    if not support_of([model], at.date())[model.pk].fresh:
        record_answer(
            model=model,
            status="supported",
            given_on=at.date(),
            given_by="parts desk",
            channel="phone",
            by=story.desk,
            at=at,
        )
    _read_recalls_and_attach(story, stay, "retail", at)


def _read_recalls_and_attach(story: Story, stay: Stay, way: str, at: datetime) -> None:
    record_check(
        unit=stay.unit,
        outcome="none",
        source="the agency's public list of recalls",
        note="",
        checked_on=at.date(),
        by=story.owner,
        at=at,
    )
    attach_paper(
        stay=stay,
        way=exits()[way],
        key=key("paper", stay.pk, at.date()),
        on=at.date(),
        by=story.desk,
        at=at,
    )


def _sold(story: Story, life: Life, stay: Stay, buyer: Customer) -> Iterator[datetime]:
    at = life.at(story, 24 + life.number % 9, 15)
    yield at
    _ask_before_sale(story, stay, at)
    sell_machine(
        stay=stay,
        customer=buyer,
        on=at.date(),
        agreed=Agreed(outlet=stay.unit.model.plug),
        paid=Paid(METHODS[life.number % len(METHODS)]),
        key=key("sold", life.number),
        by=story.desk,
        at=at,
    )


def _reserved(story: Story, life: Life, stay: Stay, buyer: Customer) -> Iterator[datetime]:
    told = table("floor.toml")["reserved"]
    at = story.at(1, 15)
    yield at
    reserve_machine(
        stay=stay,
        customer=buyer,
        amount=Decimal(told["deposit"]),
        method=told["method"],
        until_on=story.day(-told["days"]),
        on=at.date(),
        key=key("reserved", life.number),
        by=story.desk,
        at=at,
    )


def _given_away(story: Story, life: Life, stay: Stay, buyer: Customer) -> Iterator[datetime]:
    told = table("floor.toml")["donated"]
    at = life.at(story, told["after"], 11)
    yield at
    _read_recalls_and_attach(story, stay, "donated", at)
    dispose_machine(
        stay=stay,
        way=exits()["donated"],
        taker=told["taker"],
        reason=told["reason"],
        on=at.date(),
        key=key("donated", life.number),
        by=story.owner,
        at=at,
    )


AFTERWARDS = {"sold": _sold, "reserved": _reserved, "donated": _given_away}
