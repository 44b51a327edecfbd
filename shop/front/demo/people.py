"""Who works in the invented shop."""

import secrets
from dataclasses import dataclass

from django.contrib.auth import get_user_model
from django.contrib.auth.models import Group

from shop.people.seats import ACCOUNTANT, FRONT_DESK, OWNER, TECHNICIAN

LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that is taken for another


@dataclass(frozen=True)
class Person:
    username: str
    first_name: str
    last_name: str
    seats: tuple[str, ...]


PEOPLE = (
    Person("marit", "Marit", "Ashdown", (FRONT_DESK,)),
    Person("tobin", "Tobin", "Wexcombe", (TECHNICIAN,)),
    Person("ilse", "Ilse", "Quarrier", (OWNER,)),
    Person("noor", "Noor", "Hallam", (ACCOUNTANT,)),
    Person("dara", "Dara", "Fenwright", (FRONT_DESK, TECHNICIAN)),
)


def new_password() -> str:
    """Twelve letters and digits in groups of four: easy to type, 59 bits."""
    return "-".join("".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(3))


def seat_people() -> list[tuple[Person, str]]:
    """Make or keep the people, give each a new password, and return both."""
    seated = []
    for person in PEOPLE:
        user, _ = get_user_model().objects.update_or_create(
            username=person.username,
            defaults={"first_name": person.first_name, "last_name": person.last_name},
        )
        password = new_password()
        user.set_password(password)
        user.save(update_fields=["password"])
        user.groups.set(Group.objects.filter(name__in=person.seats))
        seated.append((person, password))
    return seated
