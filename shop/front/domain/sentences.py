"""The sentences of the reference tables, gathered so that a translator finds them.

The tables are data, so the tool that gathers marked sentences from code does not see them; a
module of marked copies stands beside the tables instead.
"""

import tomllib
from collections.abc import Iterator
from pathlib import Path

# Keys whose values people read, and tables of which every value is read.
SPOKEN = {
    "name",
    "title",
    "instruction",
    "label",
    "reason",
    "reasons",
    "phrase",
    "photo",
    "why",
    "look",
    "source",
    "terms",
    "origin",
    "unit",
    "call",
}
SPOKEN_TABLES = {"components", "cautions", "tools", "consequences"}

HEAD = '''"""Marked copies of the sentences in these tables, for translators; made by
``manage.py marksentences`` and never edited by hand."""

from django.utils.translation import gettext_noop as _

'''


def sentences_in(folder: Path) -> list[str]:
    """Every sentence of the tables below ``folder`` that a screen shows, once, in order."""
    found = set()
    for path in folder.rglob("*.toml"):
        found |= set(_spoken(tomllib.loads(path.read_text(encoding="utf-8"))))
    return sorted(found)


def _spoken(value, key: str = "") -> Iterator[str]:
    if isinstance(value, str):
        if key in SPOKEN:
            yield value
    elif isinstance(value, list):
        for one in value:
            yield from _spoken(one, key)
    elif isinstance(value, dict):
        for word, one in value.items():
            # A spoken table may hold anything under its own words: all of it is read.
            yield from _spoken(one, "name" if key in SPOKEN_TABLES else word)


def module_of(sentences: list[str]) -> str:
    """The text of the module of marked copies."""
    return HEAD + "".join(f"_({sentence!r})\n" for sentence in sentences)
