from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.till.domain.tax import (
    Rate,
    TaxableLine,
    TaxAmount,
    round_tax,
    shares_of,
    tax_of,
    taxable_amounts,
)

STATE = Rate("State", "part", Decimal("6.875"))
TOWN = Rate("Town", "part", Decimal("0.5"))


@pytest.mark.parametrize(
    ("exact", "rounded"),
    [
        ("0.00496", "0.00"),
        ("0.004", "0.00"),
        ("0.005", "0.01"),
        ("0.0149999", "0.01"),
        ("0.015", "0.02"),
        ("2.43375", "2.43"),
        ("0", "0.00"),
        ("-0.005", "-0.01"),
    ],
)
def test_tax_is_cut_to_the_third_decimal_before_it_is_rounded(exact, rounded):
    assert round_tax(Decimal(exact)) == Decimal(rounded)


def test_only_lines_of_the_rates_class_are_taxed():
    lines = [TaxableLine("part", Decimal("100")), TaxableLine("labour", Decimal("80"))]
    assert tax_of(lines, [STATE]) == [
        TaxAmount("State", Decimal("6.875"), Decimal("100"), Decimal("6.88"))
    ]


def test_a_jurisdiction_with_two_rates_is_shown_at_each():
    lines = [TaxableLine("part", Decimal("100")), TaxableLine("labour", Decimal("50"))]
    rates = [STATE, Rate("State", "labour", Decimal("3"))]
    assert [(tax.percent, tax.taxable, tax.tax) for tax in tax_of(lines, rates)] == [
        (Decimal("6.875"), Decimal("100"), Decimal("6.88")),
        (Decimal("3"), Decimal("50"), Decimal("1.50")),
    ]


def test_classes_at_one_rate_are_taxed_as_one_sum():
    lines = [TaxableLine("part", Decimal("4.10")), TaxableLine("machine", Decimal("8.20"))]
    rates = [STATE, Rate("State", "machine", Decimal("6.875"))]
    assert taxable_amounts(lines, rates) == {("State", Decimal("6.875")): Decimal("12.30")}


def test_a_rate_that_meets_no_line_is_left_out():
    assert tax_of([TaxableLine("labour", Decimal("50"))], [STATE]) == []


def test_nothing_is_taxed_where_no_rate_stands():
    assert tax_of([TaxableLine("part", Decimal("50"))], []) == []


def test_a_discount_lowers_what_is_taxed():
    lines = [TaxableLine("part", Decimal("100")), TaxableLine("part", Decimal("-20"))]
    assert tax_of(lines, [STATE])[0].taxable == Decimal("80")


def test_of_equal_remainders_the_first_takes_the_cent():
    assert shares_of(Decimal("0.01"), [Decimal("0.005"), Decimal("0.005")]) == [
        Decimal("0.01"),
        Decimal("0.00"),
    ]


def test_a_rate_of_nothing_never_takes_a_cent():
    lines = [TaxableLine("part", Decimal("33.00"))]
    rates = [Rate("County", "part", Decimal(0)), STATE, TOWN]
    assert [tax.tax for tax in tax_of(lines, rates)] == [
        Decimal("0.00"),
        Decimal("2.27"),
        Decimal("0.16"),
    ]


CLASSES = st.sampled_from(["part", "labour", "machine"])
CENTS = st.integers(0, 5_000_000).map(lambda cents: Decimal(cents).scaleb(-2))
LINES = st.lists(st.builds(TaxableLine, CLASSES, CENTS), max_size=8)
RATES = st.lists(
    st.builds(
        Rate,
        st.sampled_from(["State", "County", "Town"]),
        CLASSES,
        st.integers(0, 200_000).map(lambda step: Decimal(step).scaleb(-4)),
    ),
    max_size=8,
    unique_by=lambda rate: (rate.jurisdiction, rate.line_class),
)


@given(LINES, RATES)
def test_the_shares_make_the_tax_of_all_together(lines, rates):
    exact = sum(
        (
            line.net * rate.percent / 100
            for line in lines
            for rate in rates
            if line.line_class == rate.line_class
        ),
        Decimal(0),
    )
    assert sum((tax.tax for tax in tax_of(lines, rates)), Decimal(0)) == round_tax(exact)


@given(LINES, RATES)
def test_no_share_is_a_cent_or_more_from_its_exact_tax(lines, rates):
    for tax in tax_of(lines, rates):
        assert abs(tax.tax - tax.taxable * tax.percent / 100) < Decimal("0.01")
        assert tax.tax >= 0
