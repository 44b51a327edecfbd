"""The invented shop of the demo. ``tell`` replays its story through the services."""

from collections.abc import Callable, Iterator
from datetime import date, datetime
from decimal import Decimal

from django.core.files.base import ContentFile
from django.db import transaction

from parts.fits.models import Part
from shop.floor.models import Stay
from shop.floor.services import begin_stay
from shop.front.demo import world
from shop.front.demo.answering import answering
from shop.front.demo.bench import key, stock_up
from shop.front.demo.binder import binders
from shop.front.demo.clublist import NAME, draw_list
from shop.front.demo.jobs import Life, customer_job, returned_job
from shop.front.demo.own import own_life
from shop.front.demo.recalls import recalled
from shop.front.demo.standing import moved, name_spots
from shop.front.demo.story import FIRST, Story, begin, in_order_of_time, rows, table
from shop.front.demo.supplying import supplying
from shop.lots.domain.assumptions import stated_terms
from shop.lots.models import Lot
from shop.lots.services import Offered, add_source, confirm_sure, open_lot
from shop.lots.services.sources import begin_reading
from shop.lots.services.tasks import read_now
from shop.lots.services.valuing import Wish, reckon_valuation, want_valuation
from shop.people.services import save_customer
from units.catalogue.models import KindComponent
from units.catalogue.services import find_or_add_unit

SITE_MACHINES = (12, 9, 6, 6)  # at the hotel, the flats, the school and the fire station
DEMO_DRAWS = 4_000  # of the club's valuation: enough to show
SELLERS_FROM, BUYERS_FROM = 37, 44  # rows of customers.csv who sell to us and buy from us


@transaction.atomic
def tell(anchor: date, month_told: Callable[[date], None] = lambda month: None) -> None:
    """Write the story into a database that holds reference data and the people, and no more.

    Days of the story count back from ``anchor``; ``month_told`` hears of each month it reaches.
    """
    story = begin(anchor)
    world.open_shop(story)
    name_spots()
    customers = world.add_customers(story)
    models = world.add_models()
    world.add_parts(story, models)
    wearing = KindComponent.objects.filter(wears=True).values("component")
    shelf = list(Part.objects.filter(component__in=wearing).order_by("number"))
    by_number = {model.number: model for model in models}
    threads = [stock_up(story, shelf), _sites(story, customers), *answering(story, models)]
    threads += [*_lives(story, by_number, customers), *supplying(story, by_number)]
    threads += [*recalled(story), *moved(story), binders(story, by_number)]
    in_order_of_time([*threads, _club(story)], month_told)


def _lives(story: Story, models: dict, customers: list):
    whose = {}
    for number, row in enumerate(rows("jobs.csv")):
        own, again = row["whose"] == "ours", row["whose"] == "again"
        model = models[row["model"]]
        if not again:
            whose[row["machine"]] = SELLERS_FROM + number % 20 if own else int(row["whose"])
        life = Life(
            number=number,
            ago=int(row["ago"]),
            plot=row["plot"],
            ends=row["ends"],
            model=model,
            serial=_serial(model, row["machine"]),
            customer=customers[whose[row["machine"]]],
            price=Decimal(row["price"] or 0),
        )
        if own:
            buyer = customers[BUYERS_FROM + number % 16]
            yield own_life(story, life, buyer)
        elif again:
            yield returned_job(story, life)
        else:
            yield customer_job(story, life)


def _serial(model, machine: str) -> str:
    """An invented serial: the maker's letters, a year and month, a running number."""
    running = int(machine[1:]) + (500 if machine[0] == "o" else 0)
    return (
        f"{model.maker.name[:2].upper()}{17 + running % 8}{1 + running % 12:02}-{running * 37:05}"
    )


def _sites(story: Story, customers: list) -> Iterator[datetime]:
    """Machines that stand at companies' sites: seen and written down, no job yet."""
    models = world.commercial_models()
    number = 0
    for customer, count in zip(customers, SITE_MACHINES, strict=False):
        for _ in range(count):
            number += 1
            at = story.at(FIRST - 24 - number * 6, 13)
            yield at
            model = models[number % len(models)]
            serial = f"{model.maker.name[:2].upper()}S{number * 53:06}"
            unit, _added = find_or_add_unit(model=model, serial=serial, by=story.bench, at=at)
            begin_stay(
                unit=unit,
                owner=customer,
                came=Stay.Came.REPAIR,
                on=at.date(),
                by=story.bench,
                stands_at=f"{customer.name}, gym",
            )


def _club(story: Story) -> Iterator[datetime]:
    """A closing club sends its list; it is read, what is sure is confirmed, the rest waits."""
    offer = table("millrace.toml")
    at = story.at(offer["ago"], 16)
    yield at
    seller = save_customer(
        name=offer["seller"],
        sort="company",
        phone=offer["phone"],
        email="",
        note="",
        known_since=at.date(),
    )
    offered = Offered(
        title=offer["title"],
        offered_on=at.date(),
        asked=Decimal(offer["asked"]),
        remove_by=story.day(-offer["remove_in"]),
        kilometres=offer["kilometres"],
        steps=offer["steps"],
        has_power=True,
    )
    lot = open_lot(seller=seller, offered=offered, key=key("lot", 1), by=story.owner, at=at)
    upload = ContentFile(draw_list(), name=NAME)
    source = add_source(lot=lot, upload=upload, by=story.owner, at=at)
    read_now(begin_reading(pk=source.pk, at=at), at=at)
    confirm_sure(lot=lot, by=story.owner, at=at)
    _value(story, lot, at)


def _value(story: Story, lot: Lot, at: datetime) -> None:
    """The owner has the lot valued before he answers."""
    wish = Wish(asked=lot.asked, terms=stated_terms(), draws=DEMO_DRAWS)
    valuation = want_valuation(
        lot=lot, wish=wish, key=key("valuation", 1), by=story.owner, at=at, on=at.date()
    )
    reckon_valuation(pk=valuation.pk, at=at)
