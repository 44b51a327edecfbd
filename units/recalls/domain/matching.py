"""Whether a notice means a machine, and how sure that is.

A machine is left out only on the notice's own words: it names other models, or serial numbers
among which this one is not, and nothing in it was left ununderstood.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from units.catalogue.domain.keys import match_key
from units.recalls.domain.codes import without_revision
from units.recalls.domain.names import is_named, names_in, speaks_of, words_of
from units.recalls.domain.notice import Notice
from units.recalls.domain.prose import Clause, clauses_in
from units.recalls.domain.serials import verdict

LONGEST_IN_WORDS = 4  # of so many words of prose at most a model number is made
SHORTEST_IN_TEXT = 3  # a shorter one counts where it is said to be a model


def gettext_noop(sentence: str) -> str:
    """Marks a sentence for translation; whoever shows it translates it."""
    return sentence


class How(StrEnum):
    """How sure a match is, the surest first."""

    SERIAL = gettext_noop("serial in range")
    MODEL = gettext_noop("model named")
    MAKER = gettext_noop("maker and kind only")


@dataclass(frozen=True)
class Machine:
    """Everything that a machine or a model goes by; merged models leave several of each."""

    makers: frozenset[str]
    numbers: frozenset[str]
    kind: str
    serial: str = ""

    @cached_property
    def keys(self) -> set[str]:
        printed = {*self.numbers, *map(without_revision, self.numbers)}
        return {match_key(number) for number in printed} - {""}


@dataclass(frozen=True)
class Match:
    """``sentences`` are those of the notice that it rests on."""

    how: How
    sentences: tuple[str, ...] = ()


class Comparison:
    """A notice made ready to be held against many machines."""

    def __init__(self, notice: Notice):
        self.notice = notice
        self.names = names_in(notice)
        self._makers: dict[str, bool] = {}

    @cached_property
    def clauses(self) -> tuple[Clause, ...]:
        filled = tuple(
            Clause(f"model {one.model}", models=(match_key(one.model),))
            for one in self.notice.products
            if match_key(one.model)
        )
        return filled + clauses_in(self.notice.texts)

    @cached_property
    def capitals(self) -> str:
        return "\n".join(self.notice.texts).upper()

    @cached_property
    def runs(self) -> set[str]:
        """Every run of a few words of the prose, as one key: where a model number may stand."""
        found = set()
        for text in self.notice.texts:
            words = words_of(text)
            for at in range(len(words)):
                for width in range(1, LONGEST_IN_WORDS + 1):
                    found.add("".join(words[at : at + width]))
        return found

    def names_maker(self, makers: Iterable[str]) -> bool:
        for maker in makers:
            if maker not in self._makers:
                self._makers[maker] = is_named(maker, self.names)
        return any(map(self._makers.get, makers))

    def match(self, machine: Machine) -> Match | None:
        """The match, or None where the notice does not mean this machine."""
        if not self.names_maker(machine.makers):
            return None
        if self._may_name(machine.keys):
            naming = [clause for clause in self.clauses if clause.names(machine.keys)]
            if naming or self._stands_in_text(machine.keys):
                return self._by_serial(machine, How.MODEL, naming)
        if self._names_other_models or not speaks_of(machine.kind, self.capitals):
            return None
        return self._by_serial(machine, How.MAKER, [])

    def _may_name(self, keys: set[str]) -> bool:
        """Asked first, because it is quick: most notices are about other models."""
        return self._has_beginnings or not keys.isdisjoint(self._all_keys)

    @cached_property
    def _all_keys(self) -> set[str]:
        return self.runs.union(*(clause.models for clause in self.clauses))

    @cached_property
    def _has_beginnings(self) -> bool:
        return any(clause.beginnings for clause in self.clauses)

    def _stands_in_text(self, keys: set[str]) -> bool:
        return any(len(key) >= SHORTEST_IN_TEXT and key in self.runs for key in keys)

    @cached_property
    def _names_other_models(self) -> bool:
        """Whether the notice lists its models, all of them understood."""
        return any(clause.names_models for clause in self.clauses) and not any(
            clause.unclear_models for clause in self.clauses
        )

    def _by_serial(self, machine: Machine, how: How, naming: list[Clause]) -> Match | None:
        telling = [
            clause
            for clause in self.clauses
            if clause.serials and (clause in naming or not clause.names_models)
        ]
        patterns = [pattern for clause in telling for pattern in clause.serials]
        said = verdict(patterns, match_key(machine.serial))
        if said:
            return Match(How.SERIAL, _sentences(naming + telling))
        if said is False and not any(clause.unclear_serials for clause in self.clauses):
            return None
        return Match(how, _sentences(naming + telling))

    def basis(self, match: Match, machine: Machine) -> str:
        """A digest of what a person judges: another wording leaves it, other ranges change it."""
        said = (
            str(match.how),
            [clause.patterns for clause in self.clauses],
            sorted(machine.keys),
            sorted(map(match_key, machine.makers)),
            match_key(machine.serial),
        )
        return hashlib.sha256(repr(said).encode()).hexdigest()


def _sentences(clauses: list[Clause]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(clause.sentence for clause in clauses))
