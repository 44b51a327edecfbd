"""What is known by answers: the standing word of a model or part, prices, and the odds."""

from parts.answers.selectors.evening import evening_of
from parts.answers.selectors.freshness import freshness_rules, rules_and_mark
from parts.answers.selectors.odds import kept_name, learned_odds
from parts.answers.selectors.standing import Priced, newest_prices, said, support_of

__all__ = [
    "Priced",
    "evening_of",
    "freshness_rules",
    "kept_name",
    "learned_odds",
    "newest_prices",
    "rules_and_mark",
    "said",
    "support_of",
]
