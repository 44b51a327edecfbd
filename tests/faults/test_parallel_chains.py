"""Several people write down what numbers became, in one moment: no chain ever bites its tail."""

from tests.ground import SET_UP, finished

NUMBERS, ROUNDS = 4, 6

# Rings of four numbers: each link alone is lawful, all four of a ring are not.
ADD_PARTS = f"""
from django.contrib.auth.models import User
from parts.fits.services import add_part
from units.catalogue.models import Component

User.objects.create_user("keeper")
for place in range({NUMBERS * ROUNDS}):
    add_part(
        maker=None, number=f"N{{place:03}}", name="bearing", component=Component.objects.first()
    )
"""

# The second argument says which link of each ring this process writes; the file ``go`` starts it.
LINK = (
    SET_UP
    + f"""
import pathlib, sys, time
from datetime import UTC, date, datetime
from django.contrib.auth.models import User
from parts.fits.models import Part
from parts.fits.services import PartError, supersede_part

parts, by, place = list(Part.objects.order_by("key")), User.objects.get(), int(sys.argv[2])
print("ready", flush=True)
while not pathlib.Path(sys.argv[1]).exists():
    time.sleep(0.002)
for ring in range({ROUNDS}):
    first = ring * {NUMBERS}
    try:
        supersede_part(
            part=parts[first + place], by_part=parts[first + (place + 1) % {NUMBERS}],
            on=date(2026, 10, 5), evidence="notice", by=by, at=datetime(2026, 10, 6, tzinfo=UTC),
        )
        print("linked")
    except PartError as error:
        print("tail" if "bite its tail" in str(error) else repr(error))
"""
)


def test_of_every_ring_told_at_once_one_link_is_refused(real_database, tmp_path):
    real_database.python(ADD_PARTS)
    go = tmp_path / "go"
    people = [real_database.start("-c", LINK, str(go), str(place)) for place in range(NUMBERS)]
    for person in people:
        assert person.stdout.readline() == "ready\n", finished(person)
    go.touch()
    outcomes = [line for person in people for line in finished(person).splitlines()]
    assert sorted(outcomes) == ["linked"] * ((NUMBERS - 1) * ROUNDS) + ["tail"] * ROUNDS
