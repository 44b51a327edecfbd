"""What is known by answers: the standing word of a model or part, prices, and the odds."""

from parts.answers.selectors.odds import learned_odds
from parts.answers.selectors.standing import (
    Priced,
    freshness_rules,
    newest_prices,
    rules_and_mark,
    said,
    support_of,
)

__all__ = [
    "Priced",
    "freshness_rules",
    "learned_odds",
    "newest_prices",
    "rules_and_mark",
    "said",
    "support_of",
]
