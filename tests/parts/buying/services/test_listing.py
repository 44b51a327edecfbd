from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from parts.answers.models import Answer
from parts.buying.models import PriceList, Supplier
from parts.buying.selectors import Chosen, given_before
from parts.buying.services import BuyingError, keep_list, load_list
from parts.fits.models import Part
from tests.factories.parts import PartFactory
from tests.factories.units import MORNING, TODAY, ComponentFactory, PersonFactory
from tests.parts.buying.sheets import BELT, DECK, HEADINGS, csv_list, workbook
from units.catalogue.models import Maker

pytestmark = pytest.mark.django_db
WRONG = ("CV-300", "Running belt", "Corvane", "dear", 4, "yes")


@pytest.fixture(autouse=True)
def components():
    ComponentFactory(slug="running-belt", name="running belt")
    ComponentFactory(slug="deck", name="deck")


def keep(upload, **changes):
    said = {"supplier": "Kestrow spares", "given_on": TODAY, "by": PersonFactory(), "at": MORNING}
    return keep_list(upload=upload, **said | changes)


def load(kept, only_good=False, **chosen):
    return load_list(
        price_list=kept, chosen=Chosen(**chosen), only_good=only_good,
        by=PersonFactory(), at=MORNING,
    )  # fmt: skip


@pytest.mark.parametrize("written", [csv_list, workbook])
def test_every_row_becomes_a_part_and_an_answer(written):
    loaded = load(keep(written(BELT, DECK)))
    assert (loaded.good, loaded.bad, loaded.new_parts, loaded.new_answers) == (2, 0, 2, 2)
    deck = Part.objects.get(key="CV200")
    assert (deck.maker.name, deck.name, deck.component_id) == ("Corvane", "Deck, two-sided", "deck")
    said = Answer.objects.get(part=deck)
    assert (said.route, said.party, said.channel) == ("supplier", "Kestrow spares", "listing")
    assert (said.status, said.cost, said.lead_days, said.given_on) == (
        "back-ordered", Decimal(118), 9, TODAY,
    )  # fmt: skip


def test_the_sheet_that_reads_like_a_list_is_the_one_that_is_read():
    assert load(keep(workbook(BELT, DECK, sheets=3))).good == 2


def test_a_known_part_is_priced_and_not_added():
    part = PartFactory(number="CV 100", key="CV100")
    assert load(keep(csv_list(BELT))).new_parts == 0
    assert Answer.objects.get().part == part
    assert Maker.objects.count() == 1


def test_loaded_again_it_adds_nothing():
    kept = keep(csv_list(BELT, DECK))
    load(kept)
    again = load(kept)
    assert (again.good, again.new_parts, again.new_answers) == (2, 0, 0)


def test_the_same_list_given_on_a_later_day_says_again_that_its_prices_hold():
    earlier, again = (csv_list(BELT, DECK) for _time in range(2))
    load(keep(earlier, given_on=TODAY - timedelta(days=70)))
    assert load(keep(again)).new_answers == 2
    assert set(Answer.objects.values_list("given_on", flat=True)) == {
        TODAY - timedelta(days=70), TODAY,
    }  # fmt: skip
    assert Part.objects.count() == 2


def test_the_same_list_sent_twice_on_one_day_is_one():
    assert keep(csv_list(BELT)) == keep(csv_list(BELT))


def test_a_list_knows_on_which_day_the_same_was_given_last():
    first = keep(csv_list(BELT), given_on=TODAY - timedelta(days=70))
    again = keep(csv_list(BELT))
    assert (given_before(first), given_before(again)) == (None, first.given_on)
    assert given_before(keep(csv_list(BELT), supplier="Holmgate spares")) is None


@pytest.mark.parametrize("written", [csv_list, workbook])
def test_a_cost_below_the_cent_is_kept_to_the_millionth(written):
    load(keep(written((*BELT[:3], "0.004125", *BELT[4:]))))
    assert Answer.objects.get().cost == Decimal("0.004125")


@pytest.mark.parametrize("place", [3, 6])
def test_a_cell_of_many_digits_spoils_its_row_at_most(place):
    row = [*BELT, ""]
    row[place] = "9" * 40
    kept = keep(csv_list(DECK, row, headings=(*HEADINGS, "")))
    loaded = load(kept, only_good=True)
    assert (loaded.good, loaded.bad) == ((1, 1) if place == 3 else (2, 0))


def test_the_same_file_of_another_supplier_is_his_own():
    keep(csv_list(BELT))
    keep(csv_list(BELT), supplier="Another")
    assert PriceList.objects.count() == 2


def test_with_a_bad_row_nothing_is_loaded():
    kept = keep(csv_list(BELT, WRONG))
    with pytest.raises(BuyingError, match="1 row is wrong"):
        load(kept)
    assert not Part.objects.exists()
    assert not Answer.objects.exists()


def test_the_good_rows_alone_are_loaded_when_that_is_chosen():
    loaded = load(keep(csv_list(BELT, WRONG)), only_good=True)
    assert (loaded.good, loaded.bad, loaded.new_answers) == (1, 1, 1)


def test_a_list_of_bad_rows_only_is_refused():
    with pytest.raises(BuyingError, match="No row"):
        load(keep(csv_list(WRONG)), only_good=True)


def test_the_maker_of_the_whole_sheet_numbers_its_new_parts():
    headings, row = HEADINGS[:2] + HEADINGS[3:], BELT[:2] + BELT[3:]
    load(keep(csv_list(row, headings=headings)), maker="Holmgate")
    assert Part.objects.get().maker.name == "Holmgate"


def test_without_any_maker_a_new_part_has_none():
    headings, row = HEADINGS[:2] + HEADINGS[3:], BELT[:2] + BELT[3:]
    load(keep(csv_list(row, headings=headings)))
    assert Part.objects.get().maker is None


def test_another_column_may_be_chosen():
    headings = (*HEADINGS[:4], "Gross", "Stock")
    load(keep(csv_list((*BELT[:4], "99.00", "yes"), headings=headings)), columns={"cost": 4})
    assert Answer.objects.get().cost == Decimal(99)


def test_without_a_column_of_costs_it_is_asked_for():
    with pytest.raises(BuyingError, match="Say which column holds: Cost for one"):
        load(keep(csv_list(BELT)), columns={"cost": None})


@pytest.mark.parametrize(
    ("upload", "words"),
    [
        (SimpleUploadedFile("prices.xlsx", b"PK\x03\x04 cut off"), "damaged or was cut off"),
        (SimpleUploadedFile("prices.pdf", b"%PDF\x00\x01"), "no spreadsheet that we can read"),
        (SimpleUploadedFile("prices.csv", b"\n\n"), "no filled row"),
    ],
)
def test_a_file_that_is_no_list_is_refused_at_its_field(upload, words):
    with pytest.raises(BuyingError, match=words) as refusal:
        keep(upload)
    assert refusal.value.field == "file"
    assert not Supplier.objects.exists()


def test_a_list_of_tomorrow_is_refused_at_its_day():
    with pytest.raises(BuyingError) as refusal:
        keep(csv_list(BELT), given_on=TODAY + timedelta(days=1))
    assert refusal.value.field == "given_on"


def test_a_long_list_does_not_ask_for_each_row(django_assert_max_num_queries):
    rows = [(f"CV-{n}", "Running belt", "Corvane", n, 4, "yes") for n in range(1, 1201)]
    kept = keep(csv_list(*rows))
    # SQLite takes a thousand values at a time, so the writing alone is some forty queries.
    with django_assert_max_num_queries(60):
        assert load(kept).new_answers == 1200
