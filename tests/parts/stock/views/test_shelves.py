from decimal import Decimal

import pytest
from django.urls import reverse

from parts.stock.models import StockMove
from parts.stock.selectors import costing, on_hand
from parts.stock.services import issue_stock, receive_stock
from tests.factories.parts import BinFactory, PartFactory
from tests.factories.units import MORNING, TODAY, PersonFactory

pytestmark = pytest.mark.django_db
ENTRY = {"on": TODAY, "document": "D00001", "at": MORNING}


def stocked(quantity="5", place="A1", **part):
    part = PartFactory(**part)
    receive_stock(
        part=part, bin=BinFactory(name=place), quantity=Decimal(quantity),
        unit_cost=Decimal("2.50"), by=PersonFactory(), **ENTRY,
    )  # fmt: skip
    return part


def shown(bench, part):
    """What the count form shows, as a browser would send it back."""
    form = bench.get(reverse("stock-count", args=[part.pk]), {"bin": "A1"}).context["form"]
    start = {name: form.get_initial_for_field(form.fields[name], name) for name in form.fields}
    return start | {"on": "2026-10-06", "note": ""}


def test_the_shelf_shows_part_bin_quantity_and_cost(bench):
    stocked(number="CV-77", key="CV77")
    page = bench.get(reverse("shelf")).text
    for word in ("CV-77", "A1: 5", "$12.50"):
        assert word in page


@pytest.mark.parametrize("asked", [{"text": "cv77"}, {"text": "ribbon"}, {"component": "ribbon"}])
def test_the_shelf_narrows(bench, asked):
    stocked(number="CV-77", key="CV77", name="ribbon", component__slug="ribbon")
    stocked(number="CV-88", key="CV88", name="deck", component__slug="deck")
    page = bench.get(reverse("shelf"), asked).text
    assert "CV-77" in page
    assert "CV-88" not in page


def test_the_shelf_narrows_to_a_bin_and_still_shows_all_that_lies_there(bench):
    stocked(number="CV-77", key="CV77", place="B2")
    stocked(number="CV-88", key="CV88")
    page = bench.get(reverse("shelf"), {"bin": BinFactory(name="B2").pk}).text
    assert "CV-77" in page
    assert "CV-88" not in page


def test_the_shelf_asks_no_more_for_more_parts(bench, django_assert_max_num_queries):
    stocked()
    with django_assert_max_num_queries(12) as few:
        bench.get(reverse("shelf"))
    for number in range(60):
        stocked(place=f"B{number}")
    with django_assert_max_num_queries(len(few.captured_queries)):
        page = bench.get(reverse("shelf"))
    assert "Page 1 of 2" in page.text


def test_a_count_sets_the_shelf_and_says_who_counted(bench):
    part = stocked()
    answered = bench.post(
        reverse("stock-count", args=[part.pk]), shown(bench, part) | {"counted": "4"}
    )
    assert answered.headers["Location"] == reverse("shelf")
    move = StockMove.objects.get(reason="counted")
    assert (move.quantity, move.recorded_by.groups.get().name) == (Decimal(-1), "technician")


def test_a_count_sent_twice_counts_once(bench):
    part = stocked()
    said = shown(bench, part) | {"counted": "4"}
    bench.post(reverse("stock-count", args=[part.pk]), said)
    assert bench.post(reverse("stock-count", args=[part.pk]), said).status_code == 302
    assert StockMove.objects.filter(reason="counted").count() == 1


def test_a_count_of_a_shelf_that_moved_gets_a_sentence_and_moves_nothing(bench):
    part = stocked()
    said = shown(bench, part) | {"counted": "5"}
    issue_stock(part=part, quantity=Decimal(1), reason="sold", by=PersonFactory(), **ENTRY)
    page = bench.post(reverse("stock-count", args=[part.pk]), said)
    assert page.status_code == 422
    assert "The shelf moved while you counted" in page.text
    assert on_hand([part])[part.pk] == Decimal(4)


def test_after_that_sentence_a_new_count_is_taken(bench):
    part = stocked()
    said = shown(bench, part) | {"counted": "5"}
    issue_stock(part=part, quantity=Decimal(1), reason="sold", by=PersonFactory(), **ENTRY)
    page = bench.post(reverse("stock-count", args=[part.pk]), said)
    again = said | {"counted": "3", "seen": page.context["form"]["seen"].value()}
    assert bench.post(reverse("stock-count", args=[part.pk]), again).status_code == 302
    assert on_hand([part])[part.pk] == Decimal(3)


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"counted": "many"}, "Enter a number."),
        ({"counted": "-2"}, "greater than or equal to 0"),
        ({"counted": "1.2345"}, "no more than 3 decimal places"),
        ({"bin": "  "}, "This field is required."),
        ({"on": "2026-10-04"}, "had come and were left"),
        ({"seen": ""}, "Open this page again"),
    ],
)
def test_a_wrong_count_gets_a_sentence_and_moves_nothing(bench, wrong, sentence):
    part = stocked()
    said = shown(bench, part) | {"counted": "1"} | wrong
    page = bench.post(reverse("stock-count", args=[part.pk]), said)
    assert page.status_code == 422
    assert sentence in page.text
    assert on_hand([part])[part.pk] == Decimal(5)


def test_the_front_desk_may_not_count(client):
    client.force_login(PersonFactory(seats=["front desk"]))
    part = stocked()
    assert client.post(reverse("stock-count", args=[part.pk]), {}).status_code == 403


def test_a_part_shows_where_it_lies_what_it_cost_and_every_move(bench):
    part = stocked(number="CV-77", key="CV77")
    issue_stock(part=part, quantity=Decimal(1), reason="sold", by=PersonFactory(), **ENTRY)
    page = bench.get(reverse("stock-part", args=[part.pk])).text
    for words in ("A1: 4", "first in, first out", "sold over the counter", "$10.00", "-$2.50"):
        assert words in page


def test_a_part_that_never_came_says_so(bench):
    page = bench.get(reverse("stock-part", args=[PartFactory().pk])).text
    assert "It never lay on the shelf." in page


def test_a_part_with_many_moves_asks_no_more(bench, django_assert_max_num_queries):
    part = stocked("99")
    with django_assert_max_num_queries(12) as few:
        bench.get(reverse("stock-part", args=[part.pk]))
    for _ in range(60):
        issue_stock(part=part, quantity=Decimal(1), reason="sold", by=PersonFactory(), **ENTRY)
    with django_assert_max_num_queries(len(few.captured_queries)):
        page = bench.get(reverse("stock-part", args=[part.pk]))
    assert "Page 1 of 2" in page.text


def test_a_reader_is_offered_no_deed(reader):
    page = reader.get(reverse("stock-part", args=[stocked().pk])).text
    for words in ("Count it", "Scrap some", "Move it to another bin"):
        assert words not in page


def test_the_costing_page_says_how_parts_are_costed(reader):
    page = reader.get(reverse("costing")).text
    assert "first in, first out" in page
    assert "Nobody has chosen yet" in page
    assert "Choose the method" not in page


def test_the_owner_chooses_how_parts_are_costed(owner):
    said = {"method": "average", "reason": "as our accountant advised"}
    answered = owner.post(reverse("costing-choose"), said, follow=True)
    assert "From now on parts are costed by: moving average." in answered.text
    assert "as our accountant advised" in answered.text


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"method": "average"}, "only while nothing lies on the shelf"),
        ({"method": "fifo"}, "costed that way already"),
        ({"method": "lifo"}, "Select a valid choice"),
        ({"method": "average", "reason": " "}, "This field is required."),
    ],
)
def test_a_choice_that_cannot_be_made_gets_a_sentence(owner, wrong, sentence):
    stocked()
    page = owner.post(reverse("costing-choose"), {"reason": "as advised"} | wrong)
    assert page.status_code == 422
    assert sentence in page.text
    assert costing() == "fifo"


def test_nobody_but_the_owner_chooses_the_costing(bench):
    assert bench.post(reverse("costing-choose"), {"method": "average"}).status_code == 403
