"""Reading the table of a kind: its steps, each written once, and what each occasion asks of them.

A protocol names steps by key and says only what differs on its occasion. What it then asks is its
content, and one version has one content (:meth:`ProtocolTable.fingerprint`).
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass

from units.inspections.domain.steps import Known, Step, parse_step
from units.inspections.domain.tables import (
    gettext_noop,
    require,
    require_known,
    require_once,
    require_text,
)

PURCHASE, CLUB, ARRIVAL, REPAIR, FINAL, AFTER_MOVE = OCCASIONS = (
    "purchase",
    "club",
    "arrival",
    "repair",
    "final",
    "after-move",
)
KIND_WORDS = {"kind", "source", "steps", "protocols"}
PROTOCOL_WORDS = {"version", "title", "occasion", "steps", "run_in"}
RUN_IN_WORDS = {"step", "drive", "bench", "home", "club", "otherwise"}


@dataclass(frozen=True)
class ProtocolTable:
    """One version of what a kind is asked on an occasion; ``run_in`` is empty or as the table
    has it, in minutes (see :mod:`units.inspections.domain.scope`)."""

    slug: str
    version: int
    title: str
    kind: str
    occasion: str
    steps: tuple[Step, ...]
    run_in: Mapping

    @property
    def seconds(self) -> int:
        """How long all of it takes."""
        return sum(step.seconds for step in self.steps)

    def fingerprint(self) -> str:
        """SHA-256 of what it asks. Words at their default do not count, so that a word that steps
        learn later changes no older protocol."""
        steps = [_spoken(step) for step in self.steps]
        content = [self.title, self.kind, self.occasion, steps, dict(self.run_in)]
        text = json.dumps(content, sort_keys=True, default=str, ensure_ascii=False)
        return hashlib.sha256(text.encode()).hexdigest()


def _spoken(step: Step) -> dict:
    return {
        word: value for word, value in asdict(step).items() if value not in ("", [], None, False)
    }


def parse_kind(
    data: Mapping, shared: Mapping[str, Mapping], file: str, known: Known
) -> tuple[ProtocolTable, ...]:
    """Check the protocols of one kind. ``shared`` are steps of every kind by key; the kind's own
    table may say any of their words otherwise."""
    places = {"file": file, "row": gettext_noop("heading")}
    require_text(data, ["kind", "source"], **places)
    require_known(data, KIND_WORDS, "word of a kind's table", **places)
    require_known([data["kind"]], known.kinds, "kind", **places)
    own = data.get("steps", {})
    library = {key: {**shared.get(key, {}), **own.get(key, {})} for key in {**shared, **own}}
    found = tuple(
        _protocol(row, library, file, data["kind"], known) for row in data.get("protocols", [])
    )
    require_once([protocol.slug for protocol in found], file=file)
    return found


def _protocol(row: Mapping, library, file: str, kind: str, known: Known) -> ProtocolTable:
    places = {"file": file, "row": row.get("occasion", "?")}
    require_text(row, ["title", "occasion"], **places)
    require_known(row, PROTOCOL_WORDS, "word of a protocol", **places)
    require_known([row["occasion"]], OCCASIONS, "occasion", **places)
    require(
        isinstance(row.get("version"), int) and row["version"] > 0 and row.get("steps"),
        gettext_noop(
            "%(file)s, %(row)s: a protocol has a version (1, 2 ...) and at least one step."
        ),
        **places,
    )
    steps = tuple(_entry(entry, library, places, kind, known) for entry in row["steps"])
    require_once([step.key for step in steps], file=f"{file}, {row['occasion']}")
    return ProtocolTable(
        slug=f"{kind}-{row['occasion']}",
        version=row["version"],
        title=row["title"],
        kind=kind,
        occasion=row["occasion"],
        steps=steps,
        run_in=_run_in(row.get("run_in", {}), steps, places, known.kinds[kind]),
    )


def _entry(entry: str | Mapping, library: Mapping, places, kind: str, known: Known) -> Step:
    """A step by its key, or with words that differ on this occasion."""
    said = {"key": entry} if isinstance(entry, str) else dict(entry)
    places = {**places, "row": f"{places['row']}, {said.get('key', '?')}"}
    require_text(said, ["key"], **places)
    taken = said.pop("like", said["key"])
    require_known([taken], library, "step", **places)
    return parse_step({**library[taken], **said}, places, kind, known)


def _run_in(row: Mapping, steps, places, components) -> Mapping:
    if not row:
        return {}
    require_known(row, RUN_IN_WORDS, "word of a run-in", **places)
    require_known([row.get("step")], [step.key for step in steps], "step", **places)
    require_known(row.get("drive", []), components, "component of this kind", **places)
    minutes = [row.get(word) for word in ("bench", "home", "club", "otherwise")]
    require(
        all(isinstance(one, int) and one > 0 for one in minutes),
        gettext_noop(
            "%(file)s, %(row)s: a run-in has minutes for bench, home, club and otherwise."
        ),
        **places,
    )
    return row
