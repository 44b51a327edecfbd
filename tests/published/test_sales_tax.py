"""Sales tax against published figures.

Rounding: Streamlined Sales and Use Tax Agreement, section 324 (enacted e.g. as R.I. Gen. Laws
44-18.1-25 and N.D.C.C. 57-39.4-25). Where a figure is worked out by us from a published rule or
rate, its test says "computed".
"""

from decimal import Decimal

import pytest

from shop.till.domain.tax import Rate, TaxableLine, round_tax, tax_of


def taxes(net, *percents):
    rates = [Rate(f"jurisdiction {place}", "part", Decimal(p)) for place, p in enumerate(percents)]
    return [tax.tax for tax in tax_of([TaxableLine("part", Decimal(net))], rates)]


@pytest.mark.parametrize(
    ("exact", "rounded"), [("1.234", "1.23"), ("1.235", "1.24"), ("1.2349", "1.23")]
)
def test_section_324_rounds_up_when_the_third_decimal_exceeds_four(exact, rounded):
    assert round_tax(Decimal(exact)) == Decimal(rounded)


def test_section_324_carries_to_the_third_decimal_computed_cut_and_not_rounded():
    assert round_tax(Decimal("0.00496")) == Decimal("0.00")


def test_minnesota_rate_of_6_875_and_local_0_5_is_applied_once_as_7_375():
    assert (
        sum(taxes("1000.00", "6.875", "0.5")) == sum(taxes("1000.00", "7.375")) == Decimal("73.75")
    )


def test_ohio_input_of_12_95_at_6_25_per_cent_computed_is_81_cents():
    assert taxes("12.95", "6.25") == [Decimal("0.81")]


def test_1_50_at_7_per_cent_computed_is_11_cents_where_half_even_gave_10():
    assert taxes("1.50", "7") == [Decimal("0.11")]


def test_33_00_at_7_375_per_cent_computed_splits_into_parts_that_make_2_43():
    assert [round_tax(Decimal("33") * Decimal(p) / 100) for p in ("6.875", "0.5")] == [
        Decimal("2.27"),
        Decimal("0.17"),
    ]
    assert taxes("33.00", "6.875", "0.5") == [Decimal("2.27"), Decimal("0.16")]
    assert sum(taxes("33.00", "6.875", "0.5")) == Decimal("2.43")


def test_three_times_4_10_at_7_375_per_cent_computed_is_90_by_item_and_91_by_invoice():
    rate = Rate("State", "part", Decimal("7.375"))
    one = TaxableLine("part", Decimal("4.10"))
    by_item = [tax_of([one], [rate])[0].tax for _ in range(3)]
    by_invoice = tax_of([one, one, one], [rate])[0].tax
    assert (sum(by_item), by_invoice) == (Decimal("0.90"), Decimal("0.91"))


def test_openstax_volume_1_section_12_2_sale_of_18000_at_6_per_cent_bears_1080():
    assert taxes("18000.00", "6") == [Decimal("1080.00")]
