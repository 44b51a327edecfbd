"""The checks that tie the books out: two figures, from two sources, that must be one."""

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True)
class Tie:
    """``papers`` is summed from the documents, ``journal`` from the journal's lines."""

    key: str
    papers: Decimal
    journal: Decimal

    @property
    def difference(self) -> Decimal:
        return self.papers - self.journal

    @property
    def holds(self) -> bool:
        return self.difference == 0
