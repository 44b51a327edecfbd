"""What the bench writes into the binders of models: notes, codes, a drawing of the wiring."""

import uuid
from collections.abc import Iterator
from datetime import datetime

from shop.front.demo.pictures import paper
from shop.front.demo.story import Story, table
from units.binder.services import add_file, record_error_code, write_note
from units.catalogue.models import Component


def binders(story: Story, models: dict) -> Iterator[datetime]:
    """One thread for all entries, the oldest first; ``models`` by their number."""
    told = table("binder.toml")
    writing = {"notes": _note, "codes": _code, "papers": _paper}
    entries = [(row, write) for sort, write in writing.items() for row in told[sort]]
    for row, write in sorted(entries, key=lambda entry: -entry[0]["ago"]):
        at = story.at(row["ago"], 17, 20)
        yield at
        write(row, model=models[row["model"]], by=story.bench, at=at)


def _note(row: dict, **words) -> None:
    write_note(
        text=row["text"],
        sort=row.get("sort", "bench"),
        pinned=row.get("pinned", False),
        key=uuid.uuid4(),
        **words,
    )


def _code(row: dict, **words) -> None:
    told = {name: row[name] for name in ("code", "meaning", "source")}
    suspects = Component.objects.filter(slug__in=row["components"])
    record_error_code(components=suspects, **told, **words)


def _paper(row: dict, **words) -> None:
    upload = paper(row["title"], row["lines"])
    add_file(upload=upload, shows=row["shows"], title=row["title"], **words)
