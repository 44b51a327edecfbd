"""A price list loaded by several at once adds its parts and its prices once."""

from tests.ground import SET_UP, finished

ROWS, PEOPLE = 300, 3

KEEP = f"""
from datetime import UTC, date, datetime
from django.contrib.auth.models import User
from django.core.files.uploadedfile import SimpleUploadedFile
from parts.buying.services import keep_list

rows = ["Item no.;Description;Component;Brand;Dealer price;Stock"]
rows += [f"CV-{{n}};Belt;running belt;Corvane;{{n}}.50;yes" for n in range({ROWS})]
keep_list(
    supplier="Kestrow spares", upload=SimpleUploadedFile("prices.csv", "\\n".join(rows).encode()),
    given_on=date(2026, 10, 5), by=User.objects.create_user("keeper"),
    at=datetime(2026, 10, 6, tzinfo=UTC),
)
"""

# The file ``go`` starts all of them.
LOAD = (
    SET_UP
    + """
import pathlib, sys, time
from datetime import UTC, datetime
from django.contrib.auth.models import User
from parts.buying.models import PriceList
from parts.buying.selectors import Chosen
from parts.buying.services import load_list

kept, by = PriceList.objects.get(), User.objects.get()
print("ready", flush=True)
while not pathlib.Path(sys.argv[1]).exists():
    time.sleep(0.002)
loaded = load_list(
    price_list=kept, chosen=Chosen(), only_good=False, by=by,
    at=datetime(2026, 10, 6, tzinfo=UTC),
)
print(loaded.good, loaded.new_parts, loaded.new_answers)
"""
)

COUNT = """
from parts.answers.models import Answer
from parts.fits.models import Part
print(Part.objects.filter(number__startswith="CV-").count(), Answer.objects.count())
"""


def test_of_all_who_load_a_list_at_once_one_adds_it(real_database, tmp_path):
    real_database.python(KEEP)
    go = tmp_path / "go"
    people = [real_database.start("-c", LOAD, str(go)) for _ in range(PEOPLE)]
    for person in people:
        assert person.stdout.readline() == "ready\n", finished(person)
    go.touch()
    outcomes = sorted(finished(person).strip() for person in people)
    assert outcomes == [f"{ROWS} 0 0"] * (PEOPLE - 1) + [f"{ROWS} {ROWS} {ROWS}"]
    assert real_database.python(COUNT).split() == [str(ROWS)] * 2
