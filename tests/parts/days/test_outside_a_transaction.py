"""Apart from the other tests of the days: those all run inside a transaction."""

import pytest

from parts.days.services import require_open
from tests.factories.units import TODAY


def test_asking_outside_a_transaction_is_a_mistake_of_the_program():
    with pytest.raises(RuntimeError, match="needs a transaction"):
        require_open(TODAY)
