"""How far an order has come, by its lines."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

OPEN = "open"
PART_RECEIVED = "part-received"
RECEIVED = "received"
CANCELLED = "cancelled"


@dataclass(frozen=True)
class LineSoFar:
    """What was ordered and became of it; what went back to the supplier is to come again."""

    ordered: Decimal
    received: Decimal = Decimal(0)
    sent_back: Decimal = Decimal(0)
    cancelled: Decimal = Decimal(0)

    @property
    def kept(self) -> Decimal:
        return self.received - self.sent_back

    @property
    def to_come(self) -> Decimal:
        """Ordered is always kept, to come and cancelled together."""
        return self.ordered - self.kept - self.cancelled


def state(lines: Iterable[LineSoFar]) -> str:
    """The state of an order: nothing of it is stored."""
    lines = list(lines)
    kept = any(line.kept for line in lines)
    if any(line.to_come for line in lines):
        return PART_RECEIVED if kept else OPEN
    return RECEIVED if kept else CANCELLED
