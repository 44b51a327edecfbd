"""Who may open what: reads ``access.csv``, the one table of it.

A row names a URL, a method and seats separated by ``|``; ``everyone`` also means nobody signed
in, ``staff`` any seat. What the table does not name is closed.
"""

import csv
from functools import cache
from pathlib import Path

from shop.people.seats import SEATS

TABLE = Path(__file__).with_name("access.csv")
EVERYONE = "everyone"
STAFF = "staff"


@cache
def table() -> dict[tuple[str, str], frozenset[str]]:
    """``{(url name, method): seats}``; a row with an unknown seat is an error."""
    rules = {}
    with TABLE.open(newline="") as file:
        for row in csv.DictReader(file):
            seats = (
                frozenset(SEATS) if row["seats"] == STAFF else frozenset(row["seats"].split("|"))
            )
            unknown = seats - set(SEATS) - {EVERYONE}
            key = row["url"], row["method"]
            if unknown or key in rules:
                raise ValueError(f"{TABLE.name}: {key}: unknown seat or second row {unknown}")
            rules[key] = seats
    return rules


def seats_for(url_name: str, method: str) -> frozenset[str]:
    """The seats that may; empty when nobody may."""
    return table().get((url_name, "GET" if method == "HEAD" else method), frozenset())


def may_open(seats, url_name: str, method: str = "GET") -> bool:
    allowed = seats_for(url_name, method)
    return EVERYONE in allowed or bool(allowed & set(seats))


def names_open_to(seats) -> frozenset[str]:
    """URL names that these seats may open or send something to: what a page may offer."""
    held = set(seats)
    return frozenset(
        name for (name, _), allowed in table().items() if EVERYONE in allowed or allowed & held
    )


AUDIENCES = {
    "bench": frozenset({"front desk", "technician", "owner"}),
    "office": frozenset({"owner", "accountant"}),
}


def may_see_file(seats, audience: str) -> bool:
    return bool(AUDIENCES.get(audience, frozenset()) & set(seats))
