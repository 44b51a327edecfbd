import pytest

from tests.ground import RealDatabase

A_PRICE = """
from datetime import UTC, date, datetime
from django.contrib.auth import get_user_model
from django.db import connection
from parts.buying.models import Supplier
from parts.fits.models import Part
from units.catalogue.models import Component
by = get_user_model().objects.create(username="robin")
at = datetime(2026, 10, 5, 9, tzinfo=UTC)
part = Part.objects.create(
    number="CV-1", key="CV1", name="belt", component=Component.objects.first()
)
supplier = Supplier.objects.create(name="Kestrow spares")
with connection.cursor() as cursor:
    cursor.execute(
        "INSERT INTO buying_supplierprice"
        " (supplier_id, part_id, cost, lead_days, given_on, recorded_at, recorded_by_id)"
        " VALUES (%s, %s, 8500000, 4, %s, %s, %s)",
        [supplier.pk, part.pk, date(2026, 10, 4).isoformat(), at.isoformat(), by.pk],
    )
"""
ANSWERS = """
from parts.answers.models import Answer
for one in Answer.objects.select_related("part", "recorded_by"):
    print(one.part.number, one.route, one.party, one.status, one.cost, one.lead_days,
          one.given_on, one.channel, one.recorded_by.username, sep="|")
"""


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def database(request, tmp_path) -> RealDatabase:
    name = "postgres_template" if request.param == "postgresql" else "sqlite_template"
    return request.getfixturevalue(name).copy(tmp_path / "home")


def test_each_price_of_a_supplier_becomes_an_answer_of_its_list(database):
    database.manage("migrate", "buying", "0003", "--verbosity", "0")
    database.python(A_PRICE)
    database.manage("migrate", "buying", "--verbosity", "0")
    said = "CV-1|supplier|Kestrow spares|supported|8.500000|4|2026-10-04|listing|robin"
    assert database.python(ANSWERS).split("\n")[0] == said
