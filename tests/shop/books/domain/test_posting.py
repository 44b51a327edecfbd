from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.books.domain.posting import (
    Line,
    PostingError,
    Rules,
    balanced,
    deposit_end_lines,
    deposit_lines,
    goods_lines,
    goods_out_lines,
    holdback_end_lines,
    holdback_lines,
    invoice_lines,
    machine_cost_lines,
    machine_given_lines,
    machine_sold_lines,
    payment_lines,
    piece_scrapped_lines,
    read_rules,
    seller_payment_lines,
    stock_lines,
)

CLASSES = ("part", "labour", "machine", "trip", "fee")
RULES = Rules(
    owed="owed",
    tax="tax",
    sales={name: f"sales of {name}" for name in CLASSES},
    paid_into={"cash": "cash", "card": "card", "deposit": "deposits"},
    shelf="shelf",
    shelf_against={"received": "not billed", "used": "cost of parts", "counted": "lost"},
    machines="machines",
    machines_against={"purchase": "sellers", "parts": "shelf", "labour": "absorbed"},
    machines_sold="cost of machines",
    machines_given={"donated": "gifts", "scrapped": "scrap"},
    pieces="pieces",
    pieces_scrapped="lost",
    deposits="deposits",
    deposits_kept="kept",
    goods="goods",
    goods_bought="sellers",
    goods_haul="hauls",
    goods_out={"sold": "cost of goods", "lost": "lost goods"},
    sellers="sellers",
    sellers_paid_from={"cash": "cash", "check": "bank"},
    held_back="held",
    held_back_kept="kept of it",
)
money = st.decimals(-9999, 9999, places=2)


def written(lines):
    return {line.account: str(line.amount) for line in lines}


def test_an_invoice_debits_the_total_and_credits_each_class_and_the_tax():
    lines = invoice_lines(
        [("part", Decimal("70.00")), ("labour", Decimal("240.00")), ("part", Decimal("5.00"))],
        [Decimal("21.66"), Decimal("1.57")],
        RULES,
    )
    assert written(lines) == {
        "owed": "338.23",
        "sales of part": "-75.00",
        "sales of labour": "-240.00",
        "tax": "-23.23",
    }


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (
            goods_lines(Decimal("90.00"), Decimal("9.99"), RULES),
            {"goods": "99.99", "sellers": "-90.00", "hauls": "-9.99"},
        ),
        (
            goods_out_lines("lost", Decimal("3.00"), RULES),
            {"lost goods": "3.00", "goods": "-3.00"},
        ),
        (
            seller_payment_lines("check", Decimal("90.00"), RULES),
            {"sellers": "90.00", "bank": "-90.00"},
        ),
        (
            seller_payment_lines("cash", Decimal("-5.00"), RULES),
            {"sellers": "-5.00", "cash": "5.00"},
        ),
        (holdback_lines(Decimal("10.00"), RULES), {"sellers": "10.00", "held": "-10.00"}),
        (
            holdback_end_lines("released", Decimal("10.00"), RULES),
            {"held": "10.00", "sellers": "-10.00"},
        ),
        (
            holdback_end_lines("taken-off", Decimal("10.00"), RULES),
            {"held": "10.00", "sellers": "-10.00"},
        ),
        (
            holdback_end_lines("kept", Decimal("10.00"), RULES),
            {"held": "10.00", "kept of it": "-10.00"},
        ),
        (payment_lines("cash", Decimal("20.00"), RULES), {"cash": "20.00", "owed": "-20.00"}),
        (payment_lines("card", Decimal("-5.00"), RULES), {"card": "-5.00", "owed": "5.00"}),
        (
            stock_lines("received", Decimal("210.00"), RULES),
            {"shelf": "210.00", "not billed": "-210.00"},
        ),
        (
            stock_lines("used", Decimal("-42.00"), RULES),
            {"shelf": "-42.00", "cost of parts": "42.00"},
        ),
        (
            stock_lines("used", Decimal("42.00"), RULES),
            {"shelf": "42.00", "cost of parts": "-42.00"},
        ),
        (stock_lines("counted", Decimal("-3.10"), RULES), {"shelf": "-3.10", "lost": "3.10"}),
        (
            machine_cost_lines("purchase", Decimal("350.00"), RULES),
            {"machines": "350.00", "sellers": "-350.00"},
        ),
        (
            machine_cost_lines("labour", Decimal("45.00"), RULES),
            {"machines": "45.00", "absorbed": "-45.00"},
        ),
        (
            machine_sold_lines(Decimal("395.00"), RULES),
            {"cost of machines": "395.00", "machines": "-395.00"},
        ),
        (
            machine_given_lines("donated", Decimal("95.00"), RULES),
            {"gifts": "95.00", "machines": "-95.00"},
        ),
        (
            machine_given_lines("scrapped", Decimal("95.00"), RULES),
            {"scrap": "95.00", "machines": "-95.00"},
        ),
        (
            deposit_lines("card", Decimal("60.00"), RULES),
            {"card": "60.00", "deposits": "-60.00"},
        ),
        (
            payment_lines("deposit", Decimal("60.00"), RULES),
            {"deposits": "60.00", "owed": "-60.00"},
        ),
        (
            deposit_end_lines("returned", "card", Decimal("60.00"), RULES),
            {"deposits": "60.00", "card": "-60.00"},
        ),
        (
            deposit_end_lines("kept", "card", Decimal("60.00"), RULES),
            {"deposits": "60.00", "kept": "-60.00"},
        ),
    ],
)
def test_a_document_moves_its_accounts(lines, expected):
    assert written(lines) == expected


def test_an_account_stands_once_and_a_zero_not_at_all():
    lines = balanced([Line("a", Decimal(1)), Line("b", Decimal(-1)), Line("a", Decimal(0))])
    assert written(lines) == {"a": "1", "b": "-1"}


def test_lines_that_do_not_sum_to_nothing_are_refused():
    with pytest.raises(PostingError, match=r"differ by 0\.01"):
        balanced([Line("a", Decimal("1.01")), Line("b", Decimal("-1.00"))])


def test_a_class_without_an_account_is_refused_by_its_name():
    with pytest.raises(PostingError, match="“gift”"):
        invoice_lines([("gift", Decimal(1))], [], RULES)


def test_rules_that_lack_an_account_are_refused_by_its_name():
    with pytest.raises(PostingError, match="tax"):
        read_rules({"invoice": {"owed": "1200"}})


@given(
    st.lists(st.tuples(st.sampled_from(CLASSES), money), max_size=8), st.lists(money, max_size=3)
)
def test_every_invoice_balances(nets, taxes):
    lines = invoice_lines(nets, taxes, RULES)
    assert sum(line.amount for line in lines) == 0
    assert len({line.account for line in lines}) == len(lines)
    assert all(line.amount for line in lines)


def test_a_scrapped_piece_of_a_donor_is_lost_at_its_share():
    assert piece_scrapped_lines(Decimal("30.00"), RULES) == (
        Line("lost", Decimal("30.00")),
        Line("pieces", Decimal("-30.00")),
    )
