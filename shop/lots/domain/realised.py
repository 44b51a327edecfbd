"""What came of a lot that was bought, on the terms on which it was predicted."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Fared:
    """How a machine fared: what it fetched, what parts and labour cost, the months that it stood.

    A donor fetched what it carried to its pieces.
    """

    fetched: float
    spent: float
    months: float


def realised_net(
    machines: Iterable[Fared], goods: float, haul: float, storage: float, money: float
) -> float:
    """What is left of a lot but for the price paid for it.

    ``storage`` is money a machine and month, ``money`` the share of what it fetched that tied-up
    money costs a month: no document holds either, so they are taken as they were reckoned with.
    ``goods`` is what they came to (``goods_came``).
    """
    left = goods - haul
    for one in machines:
        left += one.fetched - one.spent - one.months * (storage + money * one.fetched)
    return left


def goods_came(sold_for: float, value: float, left: float) -> float:
    """What goods came to: what some were sold for, and what the share of them that is ``left`` was
    expected to bring of their ``value``. What was lost or scrapped brought nothing."""
    return sold_for + value * left


def rank_in(hundredths: Sequence[float], value: float) -> float:
    """Where a value lies in a prediction kept at every hundredth, 0 to 1."""
    return float(np.interp(value, hundredths, np.linspace(0.0, 1.0, len(hundredths))))
