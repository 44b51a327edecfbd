"""The closing club's list: drawn from what stands on its floor, and read back to it."""

from collections import Counter
from decimal import Decimal

import pytest
from django.conf import settings

from shop.front.demo.clublist import NAME, draw_list
from shop.front.demo.story import rows
from tests.shop.lots.domain.lists.layouts import read

FILE = settings.BASE_DIR / "fixtures" / "demo" / NAME


@pytest.fixture(scope="module")
def reading():
    return read(FILE.read_bytes())


def machines(reading):
    return [row.draft for row in reading.rows if row.draft and row.draft.sort == "machine"]


def test_the_file_is_what_the_demo_draws():
    assert FILE.read_bytes() == draw_list()


def test_each_machine_of_the_floor_is_read_with_its_model_serial_and_hours(reading):
    drafts = machines(reading)
    floor = rows("millrace.csv")
    assert len(drafts) == len(floor) == 46
    wrong = [
        (row["position"], draft)
        for row, draft in zip(floor, drafts, strict=True)
        if draft.candidates[0].model.number != row["model"]
        or ", ".join(draft.serials) != row["serial"]
        or (draft.hours is not None and str(draft.hours) != row["hours"])
    ]
    assert wrong == []


def test_of_the_46_machines_41_are_sure_3_are_to_decide_and_2_are_asked_about(reading):
    drafts = machines(reading)
    asked = {row.draft for row in reading.of("question")}
    assert Counter((draft.sure, draft in asked) for draft in drafts) == {
        (True, False): 41,
        (False, False): 3,
        (False, True): 2,
    }


def test_the_goods_are_read_by_their_measures(reading):
    goods = [row.draft for row in reading.rows if row.draft and row.draft.goods]
    assert [(one.goods, one.quantity, one.measure) for one in goods] == [
        ("plates", Decimal(1180), "lb"),
        ("dumbbells", Decimal(2), "set"),
        ("benches", Decimal(4), "piece"),
        ("racks", Decimal(2), "piece"),
        ("flooring", Decimal(1240), "sqft"),
    ]


def test_every_row_of_the_list_ends_as_something(reading):
    reasons = Counter(row.reason for row in reading.of("not-line"))
    assert len(reading.rows) == 36 + 22 + 8
    assert set(reasons) == {"title", "blank", "heading", "section", "total"}
