from datetime import date, timedelta

import pytest

from parts.answers.domain.support import Support
from shop.front.selectors.asking import SOON_DAYS, needs_asking

ON = date(2026, 10, 5)


def said(stale_from, fresh=True) -> Support:
    return Support(status="supported", given_on=ON, fresh=fresh, stale_from=stale_from)


# A fortnight's warning: shop default, common practice, no published source.
@pytest.mark.parametrize(
    ("support", "asks"),
    [
        (Support("not-asked"), True),
        (said(ON, fresh=False), True),
        (said(ON + timedelta(SOON_DAYS)), True),
        (said(ON + timedelta(SOON_DAYS + 1)), False),
        (said(None), False),
    ],
)
def test_a_maker_is_asked_when_no_answer_lasts_a_fortnight_more(support, asks):
    assert needs_asking(support, ON) is asks
