"""Learn from the shop's own successive answers how long a word lasts."""

from collections import Counter
from datetime import date, datetime

from django.core.cache import cache
from django.db import connection
from django.db.models import F, Max, Q, Window
from django.db.models.functions import Coalesce, Lag, RowNumber

from parts.answers.domain.holding import Sequel
from parts.answers.domain.odds import Asked, Odds, learn, other_word, says_yes, word_of
from parts.answers.domain.support import ENDED, MAKER, NO_ANSWER, NOTICE
from parts.answers.models import Answer, Withdrawal

SUBJECT = ("model", "component", "part", "route", "party")
KEPT_SECONDS = 24 * 3600


def learned_odds(on: date, known_at: datetime | None = None) -> Odds:
    """What successive answers that count by a day teach. Two queries; four after a new answer.

    Kept until an answer is added or withdrawn, since a shop of many years has many.
    """
    newest = Answer.objects.aggregate(Max("pk"))["pk__max"]
    withdrawn = Withdrawal.objects.aggregate(Max("pk"))["pk__max"]
    name = str(connection.settings_dict["NAME"]).encode().hex()[-60:]
    key = f"odds:{name}:{newest}:{withdrawn}:{on}:{known_at and known_at.timestamp()}"
    return cache.get_or_set(key, lambda: _learn(on, known_at), KEPT_SECONDS)


def _learn(on: date, known_at: datetime | None) -> Odds:
    answers = _counting(on, known_at)
    return learn(list(_sequels(answers)), _asked(answers))


def _counting(on: date, known_at: datetime | None):
    answers = Answer.objects.exclude(status=NO_ANSWER).annotate(
        counts_from=Coalesce("effective_on", "given_on")
    )
    answers = answers.filter(counts_from__lte=on)
    if known_at is None:
        return answers.filter(withdrawal=None)
    return answers.filter(recorded_at__lte=known_at).filter(
        Q(withdrawal=None) | Q(withdrawal__recorded_at__gt=known_at)
    )


def _sequels(answers):
    before = {
        "partition_by": [F(name) for name in SUBJECT],
        "order_by": [F("counts_from").asc(), F("id").asc()],
    }
    rows = (
        answers.order_by()
        .annotate(
            first=Window(Lag("status"), **before),
            first_channel=Window(Lag("channel"), **before),
            since=Window(Lag("counts_from"), **before),
        )
        .values_list("first", "first_channel", "since", "status", "channel", "counts_from")
    )
    for first, first_channel, since, status, channel, day in rows.iterator(5000):
        word = word_of(first, first_channel) if first else None
        if word is None:
            continue
        changed = other_word(first, status)
        exact = changed and status == ENDED and channel == NOTICE
        yield Sequel(word, (day - since).days, changed, exact)


def _asked(answers) -> dict[tuple[int, str], Asked]:
    newest = (
        answers.filter(route=MAKER, component=None, part=None)
        .annotate(
            rank=Window(
                RowNumber(),
                partition_by=[F("model")],
                order_by=[F("counts_from").desc(), F("id").desc()],
            )
        )
        .filter(rank=1)
        .values_list("model__maker", "model__grade", "status")
    )
    asked, yes = Counter(), Counter()
    for maker, grade, status in newest:
        asked[maker, grade] += 1
        yes[maker, grade] += says_yes(status)
    return {key: Asked(yes[key], asked[key]) for key in asked}
