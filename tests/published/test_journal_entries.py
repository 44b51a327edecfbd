"""Journal entries of OpenStax Principles of Accounting, Volumes 1 and 2 (figures only).

Our own accounts stand for the book's; what is checked is which sums are debited and credited.
"""

from decimal import Decimal

from shop.books.domain.posting import (
    deposit_lines,
    invoice_lines,
    machine_cost_lines,
    machine_sold_lines,
    payment_lines,
    stock_lines,
)
from shop.books.services import posting_rules

CASH, OWED, SHELF, MACHINES = "1000", "1200", "1300", "1400"
HELD = "2300"
TAX, SALES_OF_PARTS, SALES_OF_MACHINES = "2200", "4100", "4300"
COST_OF_PARTS, COST_OF_MACHINES, OWN_LABOUR = "5100", "5200", "5900"


def together(*entries):
    """What several entries do to each account, accounts that end at nothing left out."""
    sums = {}
    for line in (line for entry in entries for line in entry):
        sums[line.account] = sums.get(line.account, Decimal(0)) + line.amount
    return {account: amount for account, amount in sums.items() if amount}


def test_volume_1_section_12_2_a_cash_sale_of_18000_at_6_percent():
    rules, net = posting_rules(), Decimal("18000.00")
    tax = net * 6 / 100
    entries = together(
        invoice_lines([("part", net)], [tax], rules), payment_lines("cash", net + tax, rules)
    )
    assert entries == {
        CASH: Decimal("19080.00"),
        SALES_OF_PARTS: Decimal("-18000.00"),
        TAX: Decimal("-1080.00"),
    }


def test_volume_1_section_12_2_a_deposit_of_600_is_owed_until_it_is_delivered():
    rules, sum_ = posting_rules(), Decimal("600.00")
    taken = deposit_lines("cash", sum_, rules)
    assert together(taken) == {CASH: Decimal("600.00"), HELD: Decimal("-600.00")}
    delivered = (
        invoice_lines([("machine", sum_)], [], rules),
        payment_lines("deposit", sum_, rules),
        machine_sold_lines(Decimal("280.00"), rules),
    )
    assert together(*delivered) == {
        HELD: Decimal("600.00"),
        SALES_OF_MACHINES: Decimal("-600.00"),
        COST_OF_MACHINES: Decimal("280.00"),
        MACHINES: Decimal("-280.00"),
    }


def test_volume_1_section_12_2_half_of_the_deposit_is_delivered():
    rules, half = posting_rules(), Decimal("300.00")
    delivered = (
        invoice_lines([("machine", half)], [], rules),
        payment_lines("deposit", half, rules),
        machine_sold_lines(Decimal("140.00"), rules),
    )
    everything = together(deposit_lines("cash", 2 * half, rules), *delivered)
    assert everything == {
        CASH: Decimal("600.00"),
        HELD: Decimal("-300.00"),
        SALES_OF_MACHINES: Decimal("-300.00"),
        COST_OF_MACHINES: Decimal("140.00"),
        MACHINES: Decimal("-140.00"),
    }


def test_volume_1_section_6_4_a_sale_of_12000_whose_goods_cost_6200():
    rules = posting_rules()
    entries = together(
        invoice_lines([("machine", Decimal("12000.00"))], [], rules),
        machine_sold_lines(Decimal("6200.00"), rules),
    )
    assert entries == {
        OWED: Decimal("12000.00"),
        SALES_OF_MACHINES: Decimal("-12000.00"),
        COST_OF_MACHINES: Decimal("6200.00"),
        MACHINES: Decimal("-6200.00"),
    }


def test_volume_1_section_6_4_goods_that_come_back_at_a_cost_of_2400():
    assert together(stock_lines("sold", Decimal("2400.00"), posting_rules())) == {
        SHELF: Decimal("2400.00"),
        COST_OF_PARTS: Decimal("-2400.00"),
    }


def test_volume_2_section_4_8_part_labour_and_overhead_make_a_machine_cost_192():
    rules = posting_rules()
    entries = together(
        machine_cost_lines("parts", Decimal("42.00"), rules),
        machine_cost_lines("labour", Decimal("75.00"), rules),
        machine_cost_lines("labour", Decimal("75.00"), rules),
    )
    assert entries == {
        MACHINES: Decimal("192.00"),
        SHELF: Decimal("-42.00"),
        OWN_LABOUR: Decimal("-150.00"),
    }


def test_volume_2_section_4_8_a_repair_is_billed_310():
    lines = invoice_lines(
        [("part", Decimal("70.00")), ("labour", Decimal("240.00"))], [], posting_rules()
    )
    assert together(lines)[OWED] == Decimal("310.00")
