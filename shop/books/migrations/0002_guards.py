from django.db import migrations

from parts.days.guards import after_closed_day
from units.rows.guards import Guard

ENTRY, LINE = "books_journalentry", "books_journalline"
SEALED = "this entry is sealed: reverse it instead"


class Migration(migrations.Migration):
    dependencies = [("books", "0001_initial"), ("days", "0002_calendar")]

    operations = [
        Guard(
            LINE,
            "INSERT",
            SEALED,
            when=f"EXISTS (SELECT 1 FROM {ENTRY} WHERE id = NEW.entry_id AND sealed)",
        ),
        Guard(
            LINE,
            "UPDATE",
            SEALED,
            when=f"EXISTS (SELECT 1 FROM {ENTRY} WHERE id IN (OLD.entry_id, NEW.entry_id) AND sealed)",
        ),
        Guard(
            LINE,
            "DELETE",
            SEALED,
            when=f"EXISTS (SELECT 1 FROM {ENTRY} WHERE id = OLD.entry_id AND sealed)",
        ),
        Guard(
            ENTRY,
            "INSERT",
            "an entry is written first, then sealed",
            when="NEW.sealed",
            label="insert_sealed",
        ),
        Guard(ENTRY, "UPDATE", SEALED, when="OLD.sealed"),
        Guard(
            ENTRY,
            "UPDATE",
            "an entry is sealed only with two lines or more that sum to nothing",
            when=(
                f"NEW.sealed AND (SELECT COUNT(*) < 2 OR SUM(amount) <> 0 FROM {LINE}"
                " WHERE entry_id = NEW.id)"
            ),
            label="seal_unbalanced",
        ),
        Guard(ENTRY, "DELETE", SEALED, when="OLD.sealed"),
        after_closed_day(ENTRY, "entry_on"),
    ]
