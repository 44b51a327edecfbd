from decimal import Decimal

from shop.books.domain.ties import Tie


def test_equal_figures_hold():
    assert Tie("sales", Decimal("1.10"), Decimal("1.1")).holds


def test_a_cent_apart_does_not_hold():
    tie = Tie("sales", Decimal("1.11"), Decimal("1.10"))
    assert (tie.holds, tie.difference) == (False, Decimal("0.01"))
