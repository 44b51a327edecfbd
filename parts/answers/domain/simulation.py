"""A simulated shop whose rates of change are known, to see whether the odds come true.

Every subject has a true word that changes after an exponential time and then has another. The shop
asks now and then, is told the truth but for the stated chance of a wrong answer, learns from the
answers of its years, and then says of every subject how likely its last word still holds.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random

from parts.answers.domain.holding import YEAR, Sequel
from parts.answers.domain.odds import WORDS, learn, stated

STATUS = {
    "supported": ("supported", "phone"),
    "back-ordered": ("back-ordered", "phone"),
    "listing": ("supported", "listing"),
}
LATER = 0.5  # years after the last year within which the odds are put to the test


@dataclass(frozen=True)
class World:
    """How often words change (a year), how many subjects of each word a shop knows, how many
    years it watches, and how long on average it waits before it asks again."""

    rates: dict[str, float]
    subjects: int = 60
    years: float = 4.0
    pause: float = 0.5


@dataclass(frozen=True)
class Told:
    """What was predicted of one word, and whether it held."""

    word: str
    predicted: float
    held: bool


@dataclass(frozen=True)
class Bin:
    """Predictions of about one size: how many, their mean, the share that held, and the standard
    error that the share would have if every prediction were right."""

    low: float
    count: int
    mean: float
    held: float
    error: float


@dataclass
class _Subject:
    """A word of which the shop hears now and then; ``turns`` counts how often it truly changed."""

    rate: float
    random: Random
    turns: int = 0

    def __post_init__(self):
        self.turns_at = self.random.expovariate(self.rate)

    def on(self, day: float) -> int:
        """Which word it truly has on a day; days are asked in order."""
        while self.turns_at <= day:
            self.turns += 1
            self.turns_at += self.random.expovariate(self.rate)
        return self.turns


def one_shop(world: World, random: Random) -> list[Told]:
    """Watch a shop for its years, then judge its odds at a random moment soon after."""
    subjects = [
        (word, _Subject(world.rates[word], random))
        for word in WORDS
        for _number in range(world.subjects)
    ]
    heard = [list(_heard(world, subject, random)) for _word, subject in subjects]
    sequels = [
        sequel
        for (word, _subject), answers in zip(subjects, heard, strict=True)
        for sequel in _sequels(word, answers)
    ]
    odds, told = learn(sequels, {}), []
    for (word, subject), answers in zip(subjects, heard, strict=True):
        day, said = answers[-1]
        then = world.years + random.uniform(0.0, LATER)
        predicted = odds.holds(*STATUS[word], round((then - day) * YEAR))
        told.append(Told(word, predicted, subject.on(then) == said))
    return told


def _heard(world: World, subject: _Subject, random: Random) -> Iterator[tuple[float, int]]:
    """``(day, which word was said)``; a wrong answer says a word that it never has (-1)."""
    day = random.uniform(0.0, world.pause)
    while day < world.years:
        true = subject.on(day)
        yield day, true if random.random() >= stated()["wrong"] else -1
        day += random.expovariate(1 / world.pause)


def _sequels(word: str, answers: Sequence[tuple[float, int]]) -> Iterator[Sequel]:
    for (day, said), (then, next_said) in pairwise(answers):
        yield Sequel(word, round((then - day) * YEAR), changed=said != next_said)


def reliability(told: Sequence[Told], width: float = 0.1) -> list[Bin]:
    """Predictions by size against what came true."""
    bins: dict[int, list[Told]] = {}
    for one in told:
        bins.setdefault(min(int(one.predicted / width), round(1 / width) - 1), []).append(one)
    return [
        Bin(
            low=number * width,
            count=len(found),
            mean=sum(one.predicted for one in found) / len(found),
            held=sum(one.held for one in found) / len(found),
            error=math.sqrt(sum(one.predicted * (1 - one.predicted) for one in found)) / len(found),
        )
        for number, found in sorted(bins.items())
    ]


def worlds(random: Random) -> Iterator[World]:
    """Shops as the stated priors believe them to be: the rates drawn from those priors."""
    while True:
        priors = stated()["rates"]
        yield World(
            {
                word: random.gammavariate(priors[word]["shape"], 1 / priors[word]["years"])
                for word in WORDS
            }
        )
