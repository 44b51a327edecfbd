import pytest

from tests.ground import RealDatabase

TWO_CHANGES = """
from datetime import UTC, datetime
from django.contrib.auth import get_user_model
from django.db import connection
from parts.answers.models import FreshnessRule
by = get_user_model().objects.create(username="robin")
FreshnessRule.objects.get_or_create(channel="listing", defaults={"days": 60})
with connection.cursor() as cursor:
    for day, days in ((1, 45), (2, None)):
        cursor.execute(
            "INSERT INTO answers_freshnesschange"
            " (rule_id, days, back_order_days, changed_at, changed_by_id)"
            " VALUES ('listing', %s, 20, %s, %s)",
            [days, datetime(2026, 10, day, 9, tzinfo=UTC).isoformat(), by.pk],
        )
"""
TOLD = """
from parts.answers.models import FreshnessChange
for one in FreshnessChange.objects.order_by("changed_at"):
    print(one.days_before, one.back_order_days_before, one.days, one.back_order_days)
"""


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def database(request, tmp_path) -> RealDatabase:
    name = "postgres_template" if request.param == "postgresql" else "sqlite_template"
    return request.getfixturevalue(name).copy(tmp_path / "home")


def test_a_change_of_freshness_made_earlier_learns_what_was_before_it(database):
    database.manage("migrate", "answers", "0006", "--verbosity", "0")
    database.python(TWO_CHANGES)
    database.manage("migrate", "answers", "--verbosity", "0")
    assert database.python(TOLD).split("\n")[:2] == ["60 30 45 20", "45 20 None 20"]
