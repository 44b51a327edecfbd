import threading

import pytest

from shop.lots.domain.threads import side_by_side


def test_what_is_done_keeps_its_order():
    assert side_by_side(lambda one: one * one, range(50)) == [one * one for one in range(50)]
    assert side_by_side(lambda one: one, []) == []


def test_one_item_starts_no_thread():
    assert side_by_side(lambda _: threading.current_thread(), [1]) == [threading.current_thread()]


def test_an_error_is_not_lost():
    with pytest.raises(ZeroDivisionError):
        side_by_side(lambda one: 1 / one, [1, 0, 2])
