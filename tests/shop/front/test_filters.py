import pytest

from parts.answers.domain.support import Support
from shop.front.filters import answers_to

FRESH = Support("supported", fresh=True)
STALE = Support("supported", fresh=False)
NEVER = Support("not-asked")


@pytest.mark.parametrize(
    ("support", "value", "found"),
    [
        (FRESH, "supported", True),
        (FRESH, "stale", False),
        (FRESH, "limited", False),
        (STALE, "supported", False),
        (STALE, "stale", True),
        (NEVER, "not-asked", True),
        (NEVER, "stale", False),
    ],
)
def test_a_stale_yes_is_found_as_stale_and_never_as_a_yes(support, value, found):
    assert answers_to(support, value) is found
