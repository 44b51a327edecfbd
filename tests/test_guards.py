"""Every guard that a migration declares stands in the database, whichever it is.

SQLite loses a table's triggers when a later migration rebuilds the table; a ledger would then
stand open without anybody noticing.
"""

import json
import re
import uuid
from datetime import UTC, date, datetime

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, models, transaction
from django.db.migrations.loader import MigrationLoader

from units.rows.guards import Guard, Lift

DAY = date(2026, 10, 5)
VALUES = [
    (models.BooleanField, True),
    (models.DateTimeField, datetime(2026, 10, 5, 9, tzinfo=UTC)),
    (models.DateField, DAY),
    (models.UUIDField, uuid.UUID(int=1)),
    (models.JSONField, json.dumps([])),
    (models.IntegerField, 1),
    (models.Field, "x"),
]


def guards() -> list[Guard]:
    """Those that were set and not lifted for good, as with a table that was dropped."""
    loader = MigrationLoader(None)
    found = {}
    for key in sorted(loader.disk_migrations):
        for operation in loader.disk_migrations[key].operations:
            if isinstance(operation, Guard):
                found[operation.name] = operation
            elif isinstance(operation, Lift):
                del found[operation.guard.name]
    return list(found.values())


GUARDS = guards()
TABLES = {model._meta.db_table: model for model in apps.get_models()}


def standing() -> set[str]:
    ask = (
        "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal"
        if connection.vendor == "postgresql"
        else "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    )
    with connection.cursor() as cursor:
        cursor.execute(ask)
        return {name for (name,) in cursor.fetchall()}


def drop_checks(cursor, table: str) -> None:
    """Let a bare row in: the guards are asked here, not the checks (undone by the rollback)."""
    if connection.vendor != "postgresql":
        cursor.execute("PRAGMA ignore_check_constraints = ON")
        return
    found = connection.introspection.get_constraints(cursor, table)
    for name, constraint in found.items():
        if constraint["check"]:
            cursor.execute(f'ALTER TABLE {table} DROP CONSTRAINT "{name}"')


def insert_bare_row(cursor, model) -> None:
    """One row with a value in every column; what its foreign keys name need not exist."""
    values = {}
    for field in model._meta.local_concrete_fields:
        held = getattr(field, "target_field", field)
        value = next(value for kind, value in VALUES if isinstance(held, kind))
        if isinstance(held, models.DateTimeField | models.UUIDField):
            value = held.get_db_prep_value(value, connection)
        values[field.column] = value
    names = ", ".join(f'"{name}"' for name in values)
    places = ", ".join(["%s"] * len(values))
    cursor.execute(
        f"INSERT INTO {model._meta.db_table} ({names}) VALUES ({places})", list(values.values())
    )


@pytest.fixture
def undone(db):
    """A cursor whose work is rolled back before anything checks it."""
    try:
        with transaction.atomic(), connection.cursor() as cursor:
            yield cursor
            transaction.set_rollback(True)
    finally:
        if connection.vendor != "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("PRAGMA ignore_check_constraints = OFF")


def test_ledgers_are_guarded_at_all():
    guarded = {guard.table for guard in GUARDS}
    assert {"stock_stockmove", "till_invoice", "till_payment", "work_approval"} <= guarded


@pytest.mark.django_db
def test_every_guard_stands_in_the_database():
    assert {guard.name for guard in GUARDS} - standing() == set()


@pytest.mark.parametrize(
    "guard",
    [guard for guard in GUARDS if guard.event != "INSERT" and guard.when == "1 = 1"],
    ids=lambda guard: guard.name,
)
def test_a_row_that_is_written_once_refuses_change(undone, guard):
    model = TABLES[guard.table]
    drop_checks(undone, guard.table)
    insert_bare_row(undone, model)
    column = model._meta.pk.column
    change = {
        "UPDATE": f"UPDATE {guard.table} SET {column} = {column}",
        "DELETE": f"DELETE FROM {guard.table}",
    }
    with pytest.raises(IntegrityError, match=re.escape(guard.message)), transaction.atomic():
        undone.execute(change[guard.event])


@pytest.mark.parametrize(
    "guard",
    [guard for guard in GUARDS if guard.label == "closed_day"],
    ids=lambda guard: guard.name,
)
def test_a_row_of_a_closed_day_is_refused(undone, guard):
    drop_checks(undone, guard.table)
    undone.execute("UPDATE days_calendar SET closed_through = %s", [DAY])
    with pytest.raises(IntegrityError, match="closed"), transaction.atomic():
        insert_bare_row(undone, TABLES[guard.table])
