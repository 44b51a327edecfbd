"""What a study of simulated shops shows, a row for each stage of learning."""

from collections.abc import Sequence
from dataclasses import dataclass

from shop.lots.domain.judging import (
    Share,
    mean_by_cluster,
    rank_histogram,
    share_by_cluster,
    within,
)
from shop.lots.domain.studying import Judged

MIDDLE = 0.8  # of the predictions


@dataclass(frozen=True)
class Row:
    """After ``learnt`` lots, over all shops.

    ``held`` is the share of lots that came within the middle of their prediction, ``held_won`` of
    those that the shop would have bought (None where it bought none); ``ranks`` where they came.
    ``over_rule`` and ``free_over_rule`` are money a shop, within the terms and without, above the
    rule of thumb. Regrets are ``1 - sum / sum`` against who knows the worth, and worth and reserve.
    """

    learnt: int
    held: Share
    held_won: Share | None
    won: int
    ranks: list[int]
    over_rule: Share
    free_over_rule: Share
    regrets: dict[str, tuple[float, float]]


def rows_of(lives: Sequence[Sequence[Judged]]) -> list[Row]:
    """The table of a study of at least two shops."""
    stages = sorted({one.learnt for life in lives for one in life})
    return [
        _row([[one for one in life if one.learnt == at] for life in lives], at) for at in stages
    ]


def _row(lives: list[list[Judged]], learnt: int) -> Row:
    every = [one for life in lives for one in life]
    won = [[one for one in life if one.won("bid")] for life in lives]
    bought = sum(map(len, won))
    return Row(
        learnt,
        _held(lives),
        _held(won) if bought else None,
        bought,
        rank_histogram([one.rank for one in every]),
        _over(lives, "bid", "rule"),
        _over(lives, "free_bid", "free_rule"),
        {name: _regret(every, name) for name in ("bid", "rule", "free_bid", "free_rule")},
    )


def _held(lives: list[list[Judged]]) -> Share:
    return share_by_cluster([[within(one.rank, MIDDLE) for one in life] for life in lives])


def _over(lives: list[list[Judged]], name: str, other: str) -> Share:
    """Money a shop by which one way of bidding gains more than another."""
    return mean_by_cluster(
        [sum(one.gain(name) - one.gain(other) for one in life) for life in lives]
    )


def _regret(every: list[Judged], name: str) -> tuple[float, float]:
    """Against who knows the worth, and against who knows worth and reserve."""
    gained = sum(one.gain(name) for one in every)
    known, best = sum(one.gain("knowing") for one in every), sum(one.best for one in every)
    return _one_less(gained, known), _one_less(gained, best)


def _one_less(gained: float, possible: float) -> float:
    return 1 - gained / possible if possible else 0.0
