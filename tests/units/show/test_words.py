from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from django.template import Context, Template
from django.utils import timezone

from units.show import words


def shown(template: str, **context) -> str:
    return Template(template).render(Context(context))


@pytest.mark.parametrize(
    ("amount", "written"),
    [
        (Decimal("1234.50"), "$1,234.50"),
        (Decimal("0.00"), "$0.00"),
        (Decimal("-3.07"), "-$3.07"),
    ],
)
def test_money_is_written_with_its_currency_and_cents(amount, written):
    assert words.money(amount) == written


@pytest.mark.parametrize(
    ("amount", "written"),
    [
        ("123.200000", "$123.20"),
        ("0.031200", "$0.0312"),
        ("85", "$85.00"),
        ("100.000000", "$100.00"),
    ],
)
def test_what_one_piece_costs_keeps_the_parts_of_a_cent_that_it_has(amount, written):
    assert words.unit_cost(Decimal(amount)) == written


@pytest.mark.parametrize(
    ("value", "written"),
    [(Decimal("1.500"), "1.5"), (Decimal("6.8750"), "6.875"), (Decimal("20.0"), "20")],
)
def test_a_quantity_is_written_without_empty_places(value, written):
    assert words.number(value) == written


@pytest.mark.parametrize(
    ("count", "written"),
    [(0, "today"), (1, "yesterday"), (2, "2 days ago"), (301, "301 days ago")],
)
def test_an_age_is_written_in_days(count, written):
    assert words.days_ago(count) == written


@pytest.mark.parametrize(
    ("count", "written"), [(20, "20 min"), (60, "1 h"), (95, "1 h 35 min"), (0, "0 min")]
)
def test_working_time_is_written_in_hours_and_minutes(count, written):
    assert words.minutes(count) == written


def test_the_day_of_an_instant_is_the_shop_s_own():
    late = datetime(2026, 10, 5, 23, 30, tzinfo=UTC)
    with timezone.override("Asia/Tokyo"):
        assert words.day(late) == "6 Oct 2026"
    assert words.day(date(2026, 10, 5)) == "5 Oct 2026"


def test_an_absent_value_is_a_dash_in_every_filter():
    assert shown("{{ a|money }} {{ a|day }} {{ a|document }}", a=None) == "– – –"


def test_a_document_s_number_leads_to_the_search_and_is_escaped():
    link = shown("{{ number|document }}", number="J00001")
    assert link == '<a href="/find/?q=J00001">J00001</a>'
    assert "<b>" not in shown("{{ number|document }}", number="<b>")


@pytest.mark.parametrize(
    ("value", "uncertainty", "symbol", "said"),
    [
        ("0.260", "0.034", "", "0.260 ± 0.034"),
        ("1235", "21", "N", "1,235 ± 21 N"),
        ("11.50", "0", "A", "11.5 A"),
        ("-0.10", "0.10", "%", "-0.10 ± 0.10 %"),
    ],
)
def test_a_measure_is_written_to_the_decimals_that_are_known(value, uncertainty, symbol, said):
    assert words.measure(Decimal(value), Decimal(uncertainty), symbol) == said


@pytest.mark.parametrize(
    ("quantity", "measure", "written"),
    [("1", "piece", "1 piece"), ("4", "piece", "4 pieces"), ("2", "set", "2 sets"),
     ("0.5", "sqm", "0.5 square metres"), ("1240", "sqft", "1,240 square feet"),
     ("310.00", "lb", "310 lb")],
)  # fmt: skip
def test_goods_are_counted_in_words_that_fit_their_number(quantity, measure, written):
    assert words.counted(Decimal(quantity), measure) == written
    assert (
        shown("{{ quantity|counted:measure }}", quantity=Decimal(quantity), measure=measure)
        == written
    )
