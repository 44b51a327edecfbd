"""Whether a lot can be out by the day its seller named."""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from shop.lots.domain.assumptions import table


class Standing(StrEnum):
    """How a lot stands to its removal day."""

    NO_DAY = "no-day"
    OPEN = "open"  # there is a day, but what fetching takes was never reckoned
    MET = "met"
    TIGHT = "tight"  # one crew is too few: several must work side by side
    LATE = "late"


@dataclass(frozen=True)
class Plan:
    """What fetching takes: trips, people, days of one crew; ``crews`` that the day asks for.

    ``days_left`` counts today; it is below nothing once the day is over. ``begin_by`` is the last
    day on which one crew can begin.
    """

    standing: Standing
    trips: int = 0
    crew: int = 0
    days: int = 0
    days_left: int | None = None
    begin_by: date | None = None
    crews: int = 1


def plan_of(haul: dict | None, remove_by: date | None, today: date) -> Plan:
    """The plan of a reckoned haul (``trips, crew, hours`` of all people together) by that day.

    Every day counts as a working day of ``[removal]`` in ``lots.toml``; nobody is asked whether the
    building is open.
    """
    takes = _takes(haul)
    if remove_by is None:
        return Plan(Standing.NO_DAY, **takes)
    left = (remove_by - today).days + 1
    if left <= 0:
        return Plan(Standing.LATE, days_left=left - 1, **takes)
    if not takes:
        return Plan(Standing.OPEN, days_left=left)
    days = takes["days"]
    begin = remove_by - timedelta(days=max(days - 1, 0))
    crews = max(1, math.ceil(days / left))
    standing = Standing.MET if crews == 1 else Standing.TIGHT
    return Plan(standing, days_left=left, begin_by=begin, crews=crews, **takes)


def _takes(haul: dict | None) -> dict[str, int]:
    if not haul:
        return {}
    hours = haul["hours"] / max(haul["crew"], 1)
    days = math.ceil(hours / table()["removal"]["hours_a_day"])
    return {"trips": haul["trips"], "crew": haul["crew"], "days": days}
