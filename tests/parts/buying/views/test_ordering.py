import uuid
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse

from parts.buying.models import Cancellation, PurchaseOrder, Receipt
from parts.stock.selectors import on_hand
from tests.factories.parts import PartFactory, SupplierPriceFactory
from tests.factories.units import TODAY
from tests.parts.buying.purchase import an_order, take_in

pytestmark = pytest.mark.django_db
LINE = {
    "number": "", "quantity": "", "unit_cost": "", "expected_on": "", "demand": "", "maker": "",
}  # fmt: skip


def paper(*lines, **changes):
    said = {"supplier": "Holmgate spares", "ordered_on": "2026-10-05", "note": ""}
    said |= {"key": str(uuid.uuid4()), "lines-TOTAL_FORMS": "3", "lines-INITIAL_FORMS": "0"}
    said |= changes
    for index in range(3):
        filled = LINE | (lines[index] if index < len(lines) else {})
        said |= {f"lines-{index}-{name}": value for name, value in filled.items()}
    return said


def known(part=None, **changes):
    part = part or PartFactory(number="CV-42", key="CV42")
    said = {"number": part.number, "quantity": "2", "unit_cost": "7.25", "demand": "J00012"}
    return LINE | said | changes


def test_an_order_is_written_down_and_shown(desk):
    page = desk.post(reverse("order-add"), paper({}, known(), note="by van"), follow=True).text
    for word in ("O00001", "Holmgate spares", "CV-42", "7.25", "J00012", "by van", "to come"):
        assert word in page


def test_a_double_click_orders_once(desk):
    said = paper(known())
    first = desk.post(reverse("order-add"), said)
    again = desk.post(reverse("order-add"), said, follow=True)
    assert again.redirect_chain[0][0] == first.headers["Location"]
    assert "nothing was written again" in again.text
    assert PurchaseOrder.objects.count() == 1


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ({"number": "XX-1"}, "Add the part first"),
        ({"quantity": "0"}, "greater than or equal to 0.001"),
        ({"quantity": "two"}, "Enter a number."),
        ({"unit_cost": "-1"}, "greater than or equal to 0"),
        ({"unit_cost": ""}, "This field is required."),
        ({"expected_on": "2026-10-01"}, "cannot come before it was ordered"),
        ({"expected_on": "soon"}, "Enter a valid date."),
    ],
)
def test_a_wrong_line_gets_a_sentence_and_orders_nothing(desk, line, sentence):
    part = PartFactory(number="CV-42", key="CV42")
    page = desk.post(reverse("order-add"), paper({}, known(part, **line)))
    assert page.status_code == 422
    assert sentence in page.text
    assert not PurchaseOrder.objects.exists()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"supplier": " "}, "This field is required."),
        ({"ordered_on": "2999-01-01"}, "has not come yet"),
        ({"key": "twice"}, "Open this page again"),
    ],
)
def test_a_wrong_head_gets_a_sentence_and_orders_nothing(desk, changes, sentence):
    page = desk.post(reverse("order-add"), paper(known(), **changes))
    assert page.status_code == 422
    assert sentence in page.text
    assert not PurchaseOrder.objects.exists()


def test_an_order_without_a_line_is_asked_for_one(desk):
    page = desk.post(reverse("order-add"), paper())
    assert (page.status_code, "Fill in a line" in page.text) == (422, True)


def test_the_form_is_filled_with_what_its_address_asks_for(desk):
    part = SupplierPriceFactory(part__number="CV-77", cost=Decimal("8.5")).part
    asked = {
        "supplier": "Kestrow spares",
        "want": [f"{part.pk}:{rest}" for rest in ("3:J00012", "-2:", "NaN:", ":")]
        + ["x:1:", "9999:1:"],
    }
    page = desk.get(reverse("order-add"), asked).text
    for value in ("Kestrow spares", "CV-77", "3", "8.5", "J00012"):
        assert f'value="{value}"' in page
    assert page.count("<fieldset") == 4


def test_the_reader_sees_orders_and_may_not_order(reader):
    order = an_order("1")
    assert reader.get(reverse("order-list")).status_code == 200
    for name in ("order", "order-paper"):
        assert reader.get(reverse(name, args=[order.number])).status_code == 200
    assert reader.post(reverse("order-add"), paper(known())).status_code == 403
    assert PurchaseOrder.objects.count() == 1


def test_the_paper_names_parts_and_what_they_cost_together(desk):
    order = an_order("2", "3", cost="10.10")
    page = desk.get(reverse("order-paper", args=[order.number])).text
    assert "$50.50" in page
    assert all(line.part.number in page for line in order.lines.all())


def test_the_list_narrows_by_what_is_to_come_and_by_who_waits(desk):
    came, awaited = an_order("1"), an_order("1", demand="J00012")
    take_in(came, "1")
    for asked in ({"awaited": "yes"}, {"demand": "j00012"}):
        page = desk.get(reverse("order-list"), asked).text
        assert awaited.number in page
        assert came.number not in page
    page = desk.get(reverse("order-list"), {"awaited": "no"}).text
    assert came.number in page
    assert awaited.number not in page


@pytest.mark.parametrize("name", ["order-list", "order", "order-receive", "order-paper"])
def test_the_pages_ask_no_more_for_more_rows(desk, name, django_assert_max_num_queries):
    few_lines, many_lines = an_order("1"), an_order(*["2"] * 12)
    take_in(few_lines, "0.5")
    take_in(many_lines, *["1"] * 12)
    named = name != "order-list"
    with django_assert_max_num_queries(12) as few:
        desk.get(reverse(name, args=[few_lines.number] if named else []))
    for _ in range(8):
        an_order("1", "1")
    with django_assert_max_num_queries(len(few.captured_queries)):
        desk.get(reverse(name, args=[many_lines.number] if named else []))


@pytest.mark.parametrize("name", ["order", "order-receive", "order-paper"])
def test_an_order_that_is_not_there_is_not_found(desk, name):
    assert desk.get(reverse(name, args=["O99999"])).status_code == 404


def came(order, *quantities, **changes):
    said = {"reference": "LS-1", "received_on": TODAY.isoformat(), "key": str(uuid.uuid4())}
    for line, quantity in zip(order.lines.order_by("id"), quantities, strict=True):
        filled = {"quantity": quantity, "bin": "A1", "unit_cost": "10"}
        said |= {f"line-{line.pk}-{name}": value for name, value in filled.items()}
    return said | changes


def receive(client, order, *quantities, **changes):
    address = reverse("order-receive", args=[order.number])
    return client.post(address, came(order, *quantities, **changes), follow=True)


def test_what_came_is_taken_in_line_by_line(desk):
    order = an_order("2", "1")
    page = receive(desk, order, "1", "").text
    assert "D00001" in page
    held = on_hand(line.part for line in order.lines.select_related("part"))
    assert sorted(held.values()) == [Decimal(0), Decimal(1)]
    shown = desk.get(reverse("order", args=[order.number])).text
    assert "received in part" in shown


def test_a_line_proposes_what_is_still_to_come(desk):
    order = an_order("3")
    take_in(order, "1")
    page = desk.get(reverse("order-receive", args=[order.number])).text
    assert 'value="2"' in page
    assert 'value="A1"' in page


def test_a_delivery_pressed_twice_is_one(desk):
    order, key = an_order("2"), str(uuid.uuid4())
    receive(desk, order, "2", key=key)
    again = receive(desk, order, "2", key=key)
    assert "nothing was written again" in again.text
    assert Receipt.objects.count() == 1


def test_more_than_was_ordered_gets_a_sentence_at_its_line(desk):
    order = an_order("2", "1")
    page = receive(desk, order, "1", "2")
    number = order.lines.order_by("id").last().part.number
    assert page.status_code == 422
    assert f"Of {number} 1 are still to come on O00001, not 2." in page.text
    assert not Receipt.objects.exists()


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("bin", "", "This field is required."),
        ("unit_cost", "", "This field is required."),
        ("unit_cost", "dear", "Enter a number."),
        ("quantity", "-1", "greater than or equal to 0.001"),
    ],
)
def test_a_line_filled_badly_gets_a_sentence(desk, name, value, sentence):
    order = an_order("2")
    changes = {f"line-{order.lines.get().pk}-{name}": value}
    page = receive(desk, order, "1", **changes)
    assert (page.status_code, sentence in page.text) == (422, True)
    assert not Receipt.objects.exists()


def test_a_form_on_which_nothing_came_gets_a_sentence(desk):
    page = receive(desk, an_order("2"), "")
    assert (page.status_code, "at least one line" in page.text) == (422, True)


def test_what_will_not_come_is_said_with_a_reason(desk):
    order = an_order("2")
    address = reverse("order-line-cancel", args=[order.number, order.lines.get().pk])
    assert desk.post(address, {"reason": " "}).status_code == 422
    assert "cancelled" in desk.post(address, {"reason": "ended"}, follow=True).text
    again = desk.post(address, {"reason": "ended"})
    assert (again.status_code, "Nothing of this line" in again.text) == (422, True)
    assert Cancellation.objects.count() == 1


def test_a_line_of_another_order_is_not_found(desk):
    order, other = an_order("1"), an_order("1")
    address = reverse("order-line-cancel", args=[order.number, other.lines.get().pk])
    assert desk.get(address).status_code == 404


def test_what_the_shelf_will_run_out_of_says_so_when_there_is_nothing(desk):
    assert "lasts until it could be ordered again" in desk.get(reverse("reorder-list")).text


def sent_back(client, receipt, **changes):
    said = {"quantity": "1", "reason": "wrong", "note": "a deck", "key": str(uuid.uuid4())}
    said |= {"returned_on": TODAY.isoformat()} | changes
    address = reverse("part-return", args=[receipt.number, receipt.lines.get().pk])
    return client.post(address, said, follow=True)


def test_a_wrong_part_is_sent_back_and_shown(desk):
    order = an_order("2")
    receipt = take_in(order, "2")
    page = sent_back(desk, receipt).text
    assert "S00001: 1 sent back on 5 Oct 2026" in page
    assert "received in part" in desk.get(reverse("order", args=[order.number])).text


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"quantity": "3"}, "2 can go back, not 3"),
        ({"reason": "mood"}, "Select a valid choice"),
        ({"returned_on": "2026-09-01"}, "cannot go back before"),
        ({"key": "x"}, "Open this page again"),
    ],
)
def test_a_wrong_return_gets_a_sentence(desk, changes, sentence):
    page = sent_back(desk, take_in(an_order("2"), "2"), **changes)
    assert (page.status_code, sentence in page.text) == (422, True)


def test_the_accountant_sends_nothing_back(reader):
    assert sent_back(reader, take_in(an_order("2"), "2")).status_code == 403


def test_an_order_of_yesterday_is_expected_by_its_day(desk):
    order = an_order("1", expected_on=TODAY + timedelta(days=3))
    assert "8 Oct 2026" in desk.get(reverse("order", args=[order.number])).text
