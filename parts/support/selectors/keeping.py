"""What a process keeps for the pages that say what can be had."""

from datetime import date

from parts.answers.selectors import learned_odds, rules_and_mark
from parts.support.selectors.ages import years_since_made
from parts.support.selectors.places import renew_places


def keep_ready(on: date) -> None:
    """Learn the day's odds and read the rest that is kept, so that no page has to wait for it.

    Four queries the first time on a day, two from then on.
    """
    renew_places()
    years_since_made([], on)
    learned_odds(rules_and_mark(on)[1], on)
