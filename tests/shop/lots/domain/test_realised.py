import pytest

from shop.lots.domain.realised import Fared, goods_came, rank_in, realised_net


def test_what_is_left_of_a_lot_by_hand():
    """Sold for 900 after 2 months with 150 spent: 900 - 150 - 2 (12 + 0.01 x 900) = 708; a donor
    that carried 60 to its pieces after 1 month: 60 - 12 - 0.6 = 47.4; goods 300, haul 250."""
    machines = [Fared(900.0, 150.0, 2.0), Fared(60.0, 0.0, 1.0)]
    assert realised_net(machines, 300.0, 250.0, 12.0, 0.01) == pytest.approx(708 + 47.4 + 50)


def test_goods_count_at_what_was_sold_and_what_is_left_at_its_value():
    """Of 100 worth 80 a half was sold for 55, a quarter lost: 55 + 80 / 4."""
    assert goods_came(55.0, 80.0, 0.25) == 75.0


@pytest.mark.parametrize(("value", "rank"), [(-5.0, 0.0), (0.0, 0.0), (37.5, 0.375), (200.0, 1.0)])
def test_a_rank_is_read_off_the_hundredths(value, rank):
    assert rank_in([float(at) for at in range(101)], value) == rank
