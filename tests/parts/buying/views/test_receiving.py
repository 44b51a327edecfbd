import uuid
from decimal import Decimal

import pytest
from django.urls import reverse

from parts.buying.models import Receipt
from parts.buying.services import ReceivedLine, receive_parts
from parts.days.models import Calendar
from parts.fits.models import Part
from parts.stock.selectors import on_hand
from tests.factories.parts import BinFactory, PartFactory, SupplierFactory
from tests.factories.units import MORNING, TODAY, ComponentFactory, MakerFactory, PersonFactory

pytestmark = pytest.mark.django_db
EMPTY = {
    "number": "", "bin": "", "quantity": "", "unit_cost": "",
    "name": "", "component": "", "maker": "",
}  # fmt: skip


def paper(*lines, **changes):
    """The receipt form as a browser sends it: five lines, those not given left empty."""
    said = {
        "supplier": "Holmgate spares",
        "reference": "LS-4711",
        "received_on": "2026-10-05",
        "key": str(uuid.uuid4()),
        "lines-TOTAL_FORMS": "5",
        "lines-INITIAL_FORMS": "0",
    } | changes
    for index in range(5):
        filled = EMPTY | (lines[index] if index < len(lines) else {})
        said |= {f"lines-{index}-{name}": value for name, value in filled.items()}
    return said


def known(part, **changes):
    return {"number": part.number, "bin": "A1", "quantity": "2", "unit_cost": "7.25"} | changes


def test_a_delivery_is_taken_in_and_shown(desk):
    part = PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("receipt-add"), paper(known(part)), follow=True).text
    for word in ("D00001", "Holmgate spares", "LS-4711", "CV-42", "$14.50"):
        assert word in page
    assert on_hand([part])[part.pk] == Decimal(2)


def test_lines_left_empty_are_ignored_wherever_they_stand(desk):
    part = PartFactory()
    desk.post(reverse("receipt-add"), paper({}, known(part), {}, known(part)))
    assert Receipt.objects.get().lines.count() == 2


def test_a_part_nobody_has_met_is_added_with_the_delivery(desk):
    deck = ComponentFactory(slug="deck")
    line = {"number": "HG-9", "bin": "A1", "quantity": "1", "unit_cost": "40"}
    line |= {"name": "deck", "component": deck.pk, "maker": "Holmgate"}
    assert desk.post(reverse("receipt-add"), paper(line)).status_code == 302
    assert str(Part.objects.get()) == "HG-9 deck"


def test_a_double_click_takes_in_one_delivery(desk):
    part = PartFactory()
    said = paper(known(part))
    first = desk.post(reverse("receipt-add"), said)
    assert desk.post(reverse("receipt-add"), said).headers["Location"] == first.headers["Location"]
    assert on_hand([part])[part.pk] == Decimal(2)


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ({"number": "XX-1"}, "say what the part is called"),
        ({"number": "XX-1", "name": "deck"}, "say where it goes"),
        ({"number": "--", "name": "deck"}, "at least one letter or digit"),
        ({"quantity": "0"}, "greater than or equal to 0.001"),
        ({"quantity": "two"}, "Enter a number."),
        ({"unit_cost": "-1"}, "greater than or equal to 0"),
        ({"unit_cost": "1.2345678"}, "no more than 6 decimal places"),
        ({"unit_cost": "99999999"}, "less than or equal to 1000000"),
        ({"bin": ""}, "This field is required."),
        ({"number": ""}, "This field is required."),
    ],
)
def test_a_wrong_line_gets_a_sentence_and_takes_nothing_in(desk, line, sentence):
    part = PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("receipt-add"), paper(known(part), known(part, **line)))
    assert page.status_code == 422
    assert sentence in page.text
    assert not Receipt.objects.exists()
    assert on_hand([part])[part.pk] == Decimal(0)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"supplier": "  "}, "This field is required."),
        ({"received_on": "2999-01-01"}, "has not come yet"),
        ({"received_on": "2026-13-01"}, "Enter a valid date."),
        ({"key": "twice"}, "Open this page again"),
    ],
)
def test_a_wrong_head_gets_a_sentence_and_takes_nothing_in(desk, changes, sentence):
    page = desk.post(reverse("receipt-add"), paper(known(PartFactory()), **changes))
    assert page.status_code == 422
    assert sentence in page.text
    assert not Receipt.objects.exists()


def test_a_paper_without_a_line_is_asked_for_one(desk):
    page = desk.post(reverse("receipt-add"), paper())
    assert page.status_code == 422
    assert "Fill in a line" in page.text


def test_lines_whose_count_was_tampered_with_get_a_sentence(desk):
    page = desk.post(reverse("receipt-add"), {"supplier": "Holmgate spares"})
    assert page.status_code == 422


def test_a_closed_day_gets_a_sentence(desk):
    Calendar.objects.update(closed_through=TODAY)
    page = desk.post(reverse("receipt-add"), paper(known(PartFactory())))
    assert page.status_code == 422
    assert "The books are closed through 5 Oct 2026." in page.text


def test_a_number_of_two_makers_asks_which(desk):
    PartFactory(number="7", key="7")
    part = PartFactory(number="7", key="7", maker=MakerFactory(name="Holmgate"))
    page = desk.post(reverse("receipt-add"), paper(known(part)))
    assert "Several makers have this number: Corvane, Holmgate." in page.text
    desk.post(reverse("receipt-add"), paper(known(part, maker="holmgate")))
    assert on_hand([part])[part.pk] == Decimal(2)


def test_the_accountant_may_read_but_not_receive(client):
    client.force_login(PersonFactory(seats=["accountant"]))
    assert client.get(reverse("receipt-list")).status_code == 200
    assert client.post(reverse("receipt-add"), paper(known(PartFactory()))).status_code == 403
    assert not Receipt.objects.exists()


def received(supplier="Holmgate spares", lines=1):
    part = PartFactory()
    return receive_parts(
        supplier=SupplierFactory(name=supplier),
        lines=[ReceivedLine(part, BinFactory(), Decimal(1), Decimal(3))] * lines,
        reference="",
        on=TODAY,
        key=uuid.uuid4(),
        by=PersonFactory(),
        at=MORNING,
    )


def test_the_list_narrows_by_supplier_and_day(desk):
    wanted, other = received(), received("Another")
    for asked in ({"supplier": wanted.supplier_id}, {"since": "2026-10-06"}):
        page = desk.get(reverse("receipt-list"), asked).text
        assert (wanted.number in page) == ("supplier" in asked)
        assert other.number not in page


@pytest.mark.parametrize("page", ["receipt-list", "receipt", "receipt-add", "supplier-price-list"])
def test_the_pages_ask_no_more_for_more_rows(desk, page, django_assert_max_num_queries):
    few_lines, many_lines = received(), received(lines=20)
    named = page == "receipt"
    with django_assert_max_num_queries(12) as few:
        desk.get(reverse(page, args=[few_lines.number] if named else []))
    for _ in range(15):
        received()
    with django_assert_max_num_queries(len(few.captured_queries)):
        desk.get(reverse(page, args=[many_lines.number] if named else []))


def test_a_receipt_that_is_not_there_is_not_found(desk):
    assert desk.get(reverse("receipt", args=["D99999"])).status_code == 404
