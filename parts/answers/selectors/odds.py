"""Learn from the shop's own successive answers how long a word lasts."""

from collections import Counter
from datetime import date, datetime

from django.core.cache import cache
from django.db import connection
from django.db.models import Case, F, Q, When, Window
from django.db.models.functions import Coalesce, Lag, Lead
from django.utils import timezone

from parts.answers.domain.holding import Sequel
from parts.answers.domain.odds import Asked, Odds, learn, other_word, says_yes, word_of
from parts.answers.domain.support import ENDED, MAKER, NO_ANSWER, NOTICE
from parts.answers.models import Answer
from parts.answers.selectors.evening import last_evening

SUBJECT = ("model", "component", "part", "route", "party")
KEPT_SECONDS = 24 * 3600


def learned_odds(mark: str | None, on: date, known_at: datetime | None = None) -> Odds:
    """What successive answers that count by a day teach, of those written down by last evening.

    Kept while ``mark`` stays the same, since a shop of many years has many answers: no query then,
    else one. Today's answers wait for tomorrow, so that a day of calls is not a day of learning.
    """
    if mark is None:
        return _learn(on, known_at)
    key = kept_name("odds", mark, on, known_at and known_at.timestamp())
    return cache.get_or_set(key, lambda: _learn(on, known_at), KEPT_SECONDS)


def kept_name(*about) -> str:
    """The name under which a process keeps something for one day of one database."""
    database = str(connection.settings_dict["NAME"]).encode().hex()[-60:]
    return ":".join(map(str, [*about, timezone.localdate(), database]))


def _learn(on: date, known_at: datetime | None) -> Odds:
    sequels, asked, yes = [], Counter(), Counter()
    for row in _successions(_counting(on, known_at)):
        if row["first"] and (sequel := _sequel(row)):
            sequels.append(sequel)
        if row["following"] is None and row["whole"]:
            key = row["model__maker"], row["model__grade"]
            asked[key] += 1
            yes[key] += says_yes(row["status"])
    return learn(sequels, {key: Asked(yes[key], asked[key]) for key in asked})


def _counting(on: date, known_at: datetime | None):
    answers = Answer.objects.exclude(status=NO_ANSWER).annotate(
        counts_from=Coalesce("effective_on", "given_on")
    )
    answers = answers.filter(counts_from__lte=on)
    known_at = known_at or last_evening()
    return answers.filter(recorded_at__lte=known_at).filter(
        Q(withdrawal=None) | Q(withdrawal__recorded_at__gt=known_at)
    )


def _successions(answers):
    """Every answer with the one before it on the same subject by the same route. One query."""
    same = {
        "partition_by": [F(name) for name in SUBJECT],
        "order_by": [F("counts_from").asc(), F("id").asc()],
    }
    rows = answers.order_by().annotate(
        first=Window(Lag("status"), **same),
        first_channel=Window(Lag("channel"), **same),
        since=Window(Lag("counts_from"), **same),
        following=Window(Lead("id"), **same),
        whole=Case(When(route=MAKER, component=None, part=None, then=True), default=False),
    )
    names = ("first", "first_channel", "since", "following", "whole", "status", "channel")
    return rows.values(*names, "counts_from", "model__maker", "model__grade").iterator(5000)


def _sequel(row: dict) -> Sequel | None:
    word = word_of(row["first"], row["first_channel"])
    if word is None:
        return None
    changed = other_word(row["first"], row["status"])
    exact = changed and row["status"] == ENDED and row["channel"] == NOTICE
    return Sequel(word, (row["counts_from"] - row["since"]).days, changed, exact)
