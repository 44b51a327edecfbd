import pytest

from tests.ground import RealDatabase

TRIGGERS = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
    "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal",
}
STANDING = """
from django.db import connection
with connection.cursor() as cursor:
    cursor.execute({ask!r})
    print(*sorted(name for (name,) in cursor.fetchall() if name.startswith("plates_")))
"""


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def database(request, tmp_path) -> RealDatabase:
    name = "postgres_template" if request.param == "postgresql" else "sqlite_template"
    return request.getfixturevalue(name).copy(tmp_path / "home")


def standing(database: RealDatabase) -> list[str]:
    return database.python(STANDING.format(ask=TRIGGERS[database.vendor])).split()


def test_records_stay_guarded_when_their_table_is_rebuilt_there_and_back(database):
    ledger = ["plates_platerecord_no_delete", "plates_platerecord_no_update"]
    guarded = ["plates_platereading_no_change_of_what_was_read", *ledger]
    assert standing(database) == guarded
    database.manage("migrate", "plates", "0002", "--verbosity", "0")
    assert standing(database) == ledger
    database.manage("migrate", "plates", "--verbosity", "0")
    assert standing(database) == guarded
