"""Which of two answers of one route is believed: every pair of kinds, in either order."""

from datetime import UTC, date, datetime
from itertools import permutations

import pytest

from parts.answers.domain.support import Freshness, Said, by_route, support

RULES = dict.fromkeys(["phone", "mail", "notice", "listing", "order", "return"], Freshness(180, 30))
MODEL, COMPONENT, PART = 0, 1, 2
EARLY, MIDDLE, LATE, TODAY = (date(2026, month, 1) for month in (1, 3, 5, 6))
NOON = datetime(2026, 1, 1, 12, tzinfo=UTC)


def said(number, status, given_on, breadth=MODEL, channel="phone", effective=None, **more):
    return Said(
        id=number,
        status=status,
        given_on=given_on,
        given_by="parts desk",
        channel=channel,
        recorded_at=NOON,
        counts_from=effective or given_on,
        breadth=breadth,
        **more,
    )


# The later effective day first, then the narrower subject, then the newer word. The second of each
# pair is the one believed on 1 June.
PAIRS = {
    "a later call over an earlier one": (
        said(1, "supported", EARLY),
        said(2, "ended", LATE),
    ),
    "a later call about one part over an earlier end notice for the model": (
        said(1, "ended", EARLY, channel="notice"),
        said(2, "supported", LATE, PART),
    ),
    "a later end notice for the model over an earlier call about one part": (
        said(1, "supported", EARLY, PART),
        said(2, "ended", LATE, channel="notice"),
    ),
    "a notice given early but in effect late over a call between": (
        said(2, "supported", MIDDLE),
        said(1, "ended", EARLY, channel="notice", effective=LATE),
    ),
    "a call over a notice that is not in effect yet": (
        said(1, "ended", EARLY, channel="notice", effective=date(2026, 9, 1)),
        said(2, "supported", MIDDLE),
    ),
    "on one day a part over its component": (
        said(2, "ended", MIDDLE, COMPONENT),
        said(1, "supported", MIDDLE, PART),
    ),
    "on one day a component over the model": (
        said(2, "supported", MIDDLE, MODEL),
        said(1, "ended", MIDDLE, COMPONENT),
    ),
    "on one day a part over the model": (
        said(2, "supported", MIDDLE, MODEL),
        said(1, "back-ordered", MIDDLE, PART),
    ),
    "of one breadth and effective day the newer word": (
        said(2, "ended", EARLY, channel="notice", effective=LATE),
        said(1, "supported", LATE),
    ),
    "of one day and breadth the one written down last": (
        said(1, "supported", MIDDLE),
        said(2, "ended", MIDDLE),
    ),
    "a received order over an earlier end": (
        said(1, "ended", EARLY, PART),
        said(2, "supported", LATE, PART, channel="order"),
    ),
    "an end after a received order": (
        said(1, "supported", EARLY, PART, channel="order"),
        said(2, "ended", LATE),
    ),
    "an order that went back over an earlier listing": (
        said(1, "supported", EARLY, PART, channel="listing"),
        said(2, "no-answer", LATE, PART, channel="return"),
    ),
    "a later listing over an order that went back": (
        said(1, "no-answer", EARLY, PART, channel="return"),
        said(2, "supported", LATE, PART, channel="listing"),
    ),
    "a back-order over an earlier yes": (
        said(1, "supported", EARLY),
        said(2, "back-ordered", LATE, until=date(2026, 12, 1)),
    ),
    "a replacement over an earlier yes": (
        said(1, "supported", EARLY, PART),
        said(2, "superseded", LATE, PART, replaced_by=7),
    ),
    "an earlier yes over a later call that nobody answered": (
        said(2, "no-answer", LATE),
        said(1, "supported", EARLY),
    ),
    "a published end over a later call that nobody answered": (
        said(2, "no-answer", LATE, PART),
        said(1, "ended", EARLY, channel="notice"),
    ),
}


@pytest.mark.parametrize("pair", PAIRS.values(), ids=PAIRS)
def test_of_two_answers_the_rule_believes_one(pair):
    for order in permutations(pair):
        known = support(order, TODAY, RULES)
        assert (known.answer_id, known.status) == (pair[1].id, pair[1].status)


STATUSES = ["supported", "limited", "back-ordered", "superseded", "ended"]


@pytest.mark.parametrize("first", STATUSES)
@pytest.mark.parametrize("then", STATUSES)
@pytest.mark.parametrize("narrow", [MODEL, COMPONENT, PART])
@pytest.mark.parametrize("wide", [MODEL, COMPONENT, PART])
def test_no_status_outranks_a_later_one_and_no_breadth_a_later_day(first, then, narrow, wide):
    answers = [said(1, first, EARLY, narrow), said(2, then, LATE, wide)]
    assert support(answers, TODAY, RULES).answer_id == 2


def test_routes_are_told_apart_by_their_party():
    answers = [
        said(1, "ended", EARLY),
        said(2, "supported", EARLY, PART, route="supplier", party="Millrace Spares"),
        said(3, "ended", LATE, PART, route="supplier", party="Other Spares"),
    ]
    routes = by_route(answers)
    found = {route: support(of, TODAY, RULES).status for route, of in routes.items()}
    assert found == {
        ("maker", ""): "ended",
        ("supplier", "Millrace Spares"): "supported",
        ("supplier", "Other Spares"): "ended",
    }
