"""From half of what it fetches on doubtful: common practice, no published source."""

from decimal import Decimal

import pytest

from shop.work.domain.not_worth import weigh


@pytest.mark.parametrize(
    ("cost", "middle", "word"),
    [
        (199, 400, "worth"),
        (200, 400, "doubtful"),
        (399, 400, "doubtful"),
        (400, 400, "not-worth"),
        (500, None, "unknown"),
    ],
)
def test_a_repair_is_weighed_by_what_the_machine_would_fetch(cost, middle, word):
    weighed = weigh(Decimal(cost), Decimal(middle) if middle else None)
    assert weighed.word == word
    assert weighed.share == (Decimal(cost) / middle if middle else None)
