from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.buying.domain.ordering import LineSoFar, state


def line(*figures) -> LineSoFar:
    """Ordered, received, sent back, cancelled."""
    return LineSoFar(*map(Decimal, figures))


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        ([line(2)], "open"),
        ([line(2, 1)], "part-received"),
        ([line(2, 2)], "received"),
        ([line(2, 2), line(1)], "part-received"),
        ([line(2, 2), line(1, 1)], "received"),
        ([line(2, 2, 2)], "open"),
        ([line(2, 2, 1)], "part-received"),
        ([line(2, 0, 0, 2)], "cancelled"),
        ([line(2, 1, 0, 1)], "received"),
        ([line(2, 2), line(1, 0, 0, 1)], "received"),
        ([line(2, 0, 0, 2), line(1)], "open"),
        ([line(2, 1, 1, 2)], "cancelled"),
    ],
)
def test_the_state_of_an_order_follows_from_its_lines(lines, found):
    assert state(lines) == found


pieces = st.decimals("0", "99", places=3)


@given(pieces, pieces, pieces, pieces)
def test_ordered_is_kept_and_to_come_and_cancelled(kept, sent_back, to_come, cancelled):
    received = kept + sent_back
    found = LineSoFar(kept + to_come + cancelled, received, sent_back, cancelled)
    assert (found.kept, found.to_come) == (kept, to_come)
