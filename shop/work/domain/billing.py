"""What a job is charged, from what was agreed, what was used and how long it took.

One rule: parts are charged as used. Everything else is charged as agreed once the machine is
repaired; where no labour was agreed, labour is the time written, at the rate of the day, and
where some was agreed by time, that is what was written beyond the minutes of the flat lines. A
machine that leaves unrepaired is charged for the parts that stay in it and for a diagnosis fee,
if there is one. Source: common practice, no published source.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from shop.till.domain.pricing import Line, PriceRules, labour_price, line_net

PART, LABOUR, FEE = "part", "labour", "fee"


@dataclass(frozen=True)
class Agreed:
    """A line of the estimate that was said yes to."""

    line: int
    line_class: str
    description: str
    quantity: Decimal
    unit_price: Decimal
    part: int | None = None
    component: str | None = None
    minutes: int = 0
    timed: bool = False


@dataclass(frozen=True)
class Used:
    """A part taken and not put back; ``line`` and ``component`` are those it was taken for."""

    part: int
    description: str
    quantity: Decimal
    unit_price: Decimal
    line: int | None = None
    component: str | None = None


@dataclass(frozen=True)
class Work:
    """All that a job's charge depends on. ``minutes_text`` describes labour by time."""

    agreed: Sequence[Agreed]
    used: Sequence[Used]
    minutes: int
    rules: PriceRules
    minutes_text: str = ""


def serves(use: Used, line: Agreed) -> bool:
    """Whether a part was taken for a line: by choice, or for the same line of an older version."""
    if use.line == line.line or use.part == line.part:
        return True
    return line.part is None and line.component is not None and use.component == line.component


def left_to_take(agreed: Sequence[Agreed], used: Sequence[Used]) -> list[Agreed]:
    """Agreed parts that were not taken in full, each with the quantity still to take.

    A use serves the line it was taken for; what it leaves over, and a use for no line, serves the
    lines that it fits, in their order.
    """
    return [line for line in _matched(agreed, used)[0] if line.quantity > 0]


def beyond(agreed: Sequence[Agreed], used: Sequence[Used]) -> list[Used]:
    """Parts used that no agreed line asks for, each with the quantity beyond the agreed one."""
    loose = _matched(agreed, used)[1]
    pairs = zip(used, loose, strict=True)
    return [replace(use, quantity=rest) for use, rest in pairs if rest > 0]


def _matched(agreed: Sequence[Agreed], used: Sequence[Used]) -> tuple[list[Agreed], list[Decimal]]:
    """The agreed parts with what is left to take of each; what each use has left over."""
    parts = [line for line in agreed if line.line_class == PART]
    loose = [use.quantity for use in used]
    for suits in (_named, serves):
        parts = [_served(line, used, loose, suits) for line in parts]
    return parts, loose


def _named(use: Used, line: Agreed) -> bool:
    return use.line == line.line


def _served(line: Agreed, used: Sequence[Used], loose: list[Decimal], suits: Callable) -> Agreed:
    """The line with what is left of it; what it takes of each use is taken out of ``loose``."""
    left = line.quantity
    for place, use in enumerate(used):
        if suits(use, line):
            piece = min(left, loose[place])
            left, loose[place] = left - piece, loose[place] - piece
    return replace(line, quantity=left)


def charges(work: Work) -> list[Line]:
    """The lines of a repaired job."""
    lines = parts_charged(work.used)
    lines += [
        Line(line.line_class, line.description, line.quantity, line.unit_price)
        for line in work.agreed
        if line.line_class != PART and not line.timed
    ]
    if minutes := minutes_charged(work.agreed, work.minutes):
        price = labour_price(minutes, work.rules)
        lines.append(Line(LABOUR, work.minutes_text, Decimal(1), price))
    return lines


def minutes_charged(agreed: Sequence[Agreed], minutes: int) -> int:
    """How many of the minutes written are charged by the clock."""
    labour = [line for line in agreed if line.line_class == LABOUR]
    if any(line.timed for line in labour):
        return max(0, minutes - sum(line.minutes for line in labour if not line.timed))
    return 0 if labour else minutes


def charges_unrepaired(used: Sequence[Used], fee: Decimal, fee_text: str) -> list[Line]:
    """The lines of a job that ends without a repair; none when there is nothing to charge."""
    lines = parts_charged(used)
    if fee:
        lines.append(Line(FEE, fee_text, Decimal(1), fee))
    return lines


def parts_charged(used: Sequence[Used]) -> list[Line]:
    return [Line(PART, use.description, use.quantity, use.unit_price) for use in used]


def net_of(lines: Sequence[Line | Agreed]) -> Decimal:
    """The sum of the lines before tax, each rounded to the cent."""
    return sum((line_net(line.quantity, line.unit_price) for line in lines), Decimal(0))


def projected(work: Work) -> Decimal:
    """What a repair will come to before tax: the charge so far, the agreed parts to come, and
    what is still expected of labour that is charged by the time."""
    to_come = net_of(left_to_take(work.agreed, work.used))
    timed = net_of([line for line in work.agreed if line.timed])
    minutes = minutes_charged(work.agreed, work.minutes) if timed else 0
    worked = labour_price(minutes, work.rules) if minutes else Decimal(0)
    return net_of(charges(work)) + to_come + max(Decimal(0), timed - worked)
