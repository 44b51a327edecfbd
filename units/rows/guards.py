"""Database triggers that hold whoever writes: migration operations for both databases."""

from django.db.migrations.operations.base import Operation

SQLITE = """
CREATE TRIGGER {name} BEFORE {event} ON {table}
BEGIN SELECT RAISE(ABORT, '{message}') WHERE {when}; END
"""
POSTGRESQL_FUNCTION = """
CREATE FUNCTION {name}() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF {when} THEN
    RAISE EXCEPTION '{message}' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN {row};
END $$
"""
POSTGRESQL = """
CREATE TRIGGER {name} BEFORE {event} ON {table} FOR EACH ROW EXECUTE FUNCTION {name}()
"""


class Guard(Operation):
    """Refuse ``event`` (INSERT, UPDATE or DELETE) on a table whenever ``when`` holds.

    ``when`` is SQL over OLD and NEW, sub-queries allowed, that both databases read alike. The
    refusal reaches Python as ``django.db.IntegrityError``.
    """

    reversible = True
    reduces_to_sql = True

    def __init__(self, table: str, event: str, message: str, when: str = "1 = 1", label: str = ""):
        self.table, self.event, self.message, self.when = table, event, message, when
        self.label = label or event.lower()

    @property
    def name(self) -> str:
        return f"{self.table}_no_{self.label}"

    def state_forwards(self, app_label, state):
        pass

    def database_forwards(self, app_label, schema_editor, from_state, to_state):
        words = {
            "name": self.name,
            "event": self.event,
            "table": self.table,
            "message": self.message.replace("'", "''"),
            "when": self.when,
            "row": "OLD" if self.event == "DELETE" else "NEW",
        }
        if schema_editor.connection.vendor == "postgresql":
            schema_editor.execute(POSTGRESQL_FUNCTION.format(**words), params=None)
            schema_editor.execute(POSTGRESQL.format(**words), params=None)
        else:
            schema_editor.execute(SQLITE.format(**words), params=None)

    def database_backwards(self, app_label, schema_editor, from_state, to_state):
        if schema_editor.connection.vendor == "postgresql":
            schema_editor.execute(f"DROP TRIGGER {self.name} ON {self.table}", params=None)
            schema_editor.execute(f"DROP FUNCTION {self.name}()", params=None)
        else:
            schema_editor.execute(f"DROP TRIGGER {self.name}", params=None)

    def describe(self):
        return f"Refuse {self.event} on {self.table}"


class Lift(Operation):
    """Take a guard away so that the migration may rebuild its table; set it again afterwards.

    SQLite rebuilds a table for most changes and drops its triggers on the way.
    """

    reversible = True
    reduces_to_sql = True

    def __init__(self, guard: Guard):
        self.guard = guard

    def state_forwards(self, app_label, state):
        pass

    def database_forwards(self, *args):
        self.guard.database_backwards(*args)

    def database_backwards(self, *args):
        self.guard.database_forwards(*args)

    def describe(self):
        return f"Lift: {self.guard.describe()}"


def only_grows(table: str) -> list[Guard]:
    """Guards for a ledger: its rows are written once, and a mistake is reversed by another row."""
    return [
        Guard(table, "UPDATE", f"{table} only grows: reverse the row instead"),
        Guard(table, "DELETE", f"{table} only grows: reverse the row instead"),
    ]
