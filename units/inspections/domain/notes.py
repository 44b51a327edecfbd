"""Reading the table of what is often noted at a step."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from units.inspections.domain.tables import (
    gettext_noop,
    parse_words,
    require,
    require_known,
    require_text,
)

TABLE_WORDS = {"source", "reasons", "notes", "consequences"}
NOTE_WORDS = {"phrase", "components"}


@dataclass(frozen=True)
class CommonNotes:
    """``notes`` are ``(phrase, components)``, no components meaning every step; ``consequences``
    say by reason what follows from a step that was not possible."""

    reasons: tuple[str, ...]
    notes: tuple[tuple[str, frozenset[str]], ...]
    consequences: Mapping[str, str] = field(default_factory=dict)

    def at(self, component: str | None) -> list[str]:
        """What is often noted at a step on this component, its own notes first."""
        own = [words for words, components in self.notes if component in components]
        return own + [words for words, components in self.notes if not components]


def parse_notes(data: Mapping, file: str, components: Collection[str]) -> CommonNotes:
    """Raises TableError on a word, a component or a missing sentence that nobody knows."""
    places = {"file": file, "row": gettext_noop("heading")}
    require_text(data, ["source"], **places)
    require_known(data, TABLE_WORDS, "word of a table of notes", **places)
    require(data.get("reasons"), gettext_noop("%(file)s: at least one reason is needed."), **places)
    notes = []
    for row in data.get("notes", []):
        places["row"] = str(row.get("phrase", "note"))
        require_text(row, ["phrase"], **places)
        require_known(row, NOTE_WORDS, "word of a note", **places)
        require_known(row.get("components", []), components, "component", **places)
        notes.append((row["phrase"], frozenset(row.get("components", []))))
    consequences = parse_words(data, "consequences", file)
    require_known(consequences, data["reasons"], "reason", file=file, row="consequences")
    return CommonNotes(tuple(data["reasons"]), tuple(notes), consequences)
