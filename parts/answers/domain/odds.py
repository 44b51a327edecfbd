"""The chance that a word still holds, from stated priors and the shop's own answers."""

import tomllib
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from parts.answers.domain.holding import (
    Prior,
    Rate,
    Sequel,
    asked_share,
    posterior,
    still_holds,
    watched,
)
from parts.answers.domain.support import BACK_ORDERED, ENDED, NO_ANSWER, NOT_ASKED

TABLE = Path(__file__).parents[3] / "fixtures/reference/odds.toml"
LISTING = "listing"
WORDS = ("supported", BACK_ORDERED, LISTING)


@cache
def stated() -> dict:
    """The shop's stated priors, as in ``odds.toml``."""
    return tomllib.loads(TABLE.read_text(encoding="utf-8"))


def word_of(status: str, channel: str) -> str | None:
    """Which rate of change a word has; None for one that is not learnt from (an end, silence)."""
    if status in (ENDED, NO_ANSWER, NOT_ASKED):
        return None
    if channel == LISTING:
        return LISTING
    return BACK_ORDERED if status == BACK_ORDERED else "supported"


def says_yes(status: str) -> bool:
    return status not in (ENDED, NO_ANSWER, NOT_ASKED)


def other_word(first: str, then: str) -> bool:
    """Whether a second status says another thing than the first: had, late, or gone."""
    return _sense(first) != _sense(then)


def _sense(status: str) -> str:
    return status if status in (BACK_ORDERED, ENDED) else "had"


@dataclass(frozen=True)
class Asked:
    """How often a maker's answers about one grade were a yes."""

    yes: int = 0
    asked: int = 0


@dataclass(frozen=True)
class Odds:
    """What the shop has learnt by one day. ``rates`` by word; ``asked`` by (maker id, grade)."""

    rates: Mapping[str, Rate]
    asked: Mapping[tuple[int, str], Asked] = field(default_factory=dict)
    # A page asks for the same ages again and again.
    _known: dict[tuple[str, int], float] = field(default_factory=dict, compare=False, repr=False)

    def holds(self, status: str, channel: str, age_days: int) -> float:
        """The chance, 0 to 1, that a word of this kind and age is still true."""
        wrong = stated()["wrong"]
        word = word_of(status, channel)
        if word is None:
            return 1 - wrong if status == ENDED else 0.0
        if (word, age_days) not in self._known:
            self._known[word, age_days] = still_holds(self.rates[word], age_days, wrong)
        return self._known[word, age_days]

    def unasked(self, maker: int, grade: str, years: float | None) -> float:
        """The chance that parts can be had for a model that nobody asked about."""
        table = stated()["unasked"]
        asked = self.asked.get((maker, grade), Asked())
        return asked_share(_share(table, grade, years), table["counts_as"], asked.yes, asked.asked)


def _share(table: dict, grade: str, years: float | None) -> float:
    shares = table["grade"].get(grade)
    if shares is None:
        return table["unknown_grade"]
    if years is None:
        return sum(shares) / len(shares)
    return shares[bisect_left(table["ages"], years)]


def learn(sequels: Sequence[Sequel], asked: Mapping[tuple[int, str], Asked]) -> Odds:
    """Odds from all successive answers; with none, the stated priors alone."""
    rates = {}
    for word in WORDS:
        prior = stated()["rates"][word]
        seen = watched(one for one in sequels if one.word == word)
        rates[word] = posterior(Prior(prior["shape"], prior["years"]), seen, stated()["wrong"])
    return Odds(rates, asked)
