"""What only several processes on a real database can show."""

import pytest

from tests.ground import finished

TAKE_TEN = """
import django; django.setup()
from units.rows.services import next_number
for _ in range(10):
    print(next_number("jobs"))
"""


def test_numbers_given_to_two_at_once_are_each_given_once_and_leave_no_gap(real_database):
    both = [real_database.start("-c", TAKE_TEN) for _ in range(2)]
    given = [int(word) for process in both for word in finished(process).split()]
    assert sorted(given) == list(range(1, 21))


@pytest.mark.parametrize("table", ["stock_stockmove", "till_invoice"])
def test_a_copy_of_the_template_keeps_its_guards(real_database, table):
    count = (
        f"SELECT count(*) FROM pg_trigger WHERE tgname LIKE '{table}_no_%%'"
        if real_database.vendor == "postgresql"
        else f"SELECT count(*) FROM sqlite_master WHERE name LIKE '{table}_no_%'"
    )
    found = real_database.python(
        "from django.db import connection\n"
        "cursor = connection.cursor()\n"
        f"cursor.execute({count!r})\n"
        "print(cursor.fetchone()[0])\n"
    )
    assert int(found) == 3
