"""Where machines stand: the shop's named spots, and what was carried where in the story."""

from collections.abc import Iterator
from datetime import datetime

from shop.floor.models import Spot, Stay
from shop.floor.services import add_spot, move_machine
from shop.front.demo.bench import key
from shop.front.demo.story import Story, table


def name_spots() -> None:
    for spot in table("floor.toml")["spots"]:
        add_spot(name=spot["name"], sort=spot["sort"])


def put(story: Story, stay: Stay, turn: str, at: datetime) -> None:
    """A machine is put where machines stand after this turn of their life."""
    _carry(story, stay, table("floor.toml")["after"][turn], at)


def moved(story: Story) -> list[Iterator[datetime]]:
    """Single machines that are carried elsewhere, by serial."""
    return [_moved(story, row) for row in table("floor.toml")["moves"]]


def _moved(story: Story, row: dict) -> Iterator[datetime]:
    at = story.at(row["ago"], row["hour"])
    yield at
    stay = Stay.objects.here().get(unit__serial=row["serial"])
    _carry(story, stay, row["spot"], at)


def _carry(story: Story, stay: Stay, name: str, at: datetime) -> None:
    move_machine(
        stay=stay,
        spot=Spot.objects.get(name=name),
        key=key("stand", stay.pk, name, at),
        by=story.bench,
        at=at,
    )
