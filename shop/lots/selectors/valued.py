"""The lines of a lot as they go into a valuation, with what was found of its machines."""

from collections.abc import Iterator

from shop.lots.domain.listed import GoodsLine, MachineLine, Wanted, said_dead
from shop.lots.models import Lot, LotLine, LotMachine, Valuation
from units.inspections.domain.outcomes import NEEDS_REPLACING, UNDECIDED
from units.inspections.models import ComponentOutcome

Found = dict[int, dict[str, bool]]


def lines_to_value(lot: Lot) -> list[MachineLine | GoodsLine]:
    """Every line that was not left out; one for each machine that somebody walked past. Four
    queries."""
    lines = lot.lines.exclude(state=LotLine.State.DROPPED).select_related(
        "model__maker", "model__merged_into__maker"
    )
    lines = list(lines.prefetch_related("machines").order_by("position"))
    units = [one.unit_id for line in lines for one in line.machines.all() if one.unit_id]
    found = found_of(units)
    return [one for line in lines for one in _of_line(line, found)]


def found_of(units: list[int]) -> Found:
    """``{unit id: {component: it has to be replaced}}`` by the newest outcomes. One query."""
    rows = ComponentOutcome.objects.filter(unit__in=units).order_by("looked_on", "pk")
    found: Found = {}
    for unit, slug, fate in rows.values_list("unit", "component", "fate"):
        if fate != UNDECIDED:
            found.setdefault(unit, {})[slug] = fate in NEEDS_REPLACING
    return found


def _of_line(line: LotLine, found: Found) -> Iterator[MachineLine | GoodsLine]:
    if line.sort == LotLine.Sort.GOODS:
        key = f"{line.position}"
        yield GoodsLine(key, line.named, line.goods, line.measure, line.quantity, line.pieces)
        return
    walked = [one for one in line.machines.all() if one.looked_at]
    for one in walked:
        yield _walked(line, one, found)
    left = line.count - len(walked)
    if left > 0:
        found_dead = sum(one.ran != LotMachine.Ran.RUNS for one in walked)
        dead = said_dead(line.note, line.count) - found_dead
        dead = min(left, max(0, dead))
        yield MachineLine(f"{line.position}", line.named, _wanted(line, line.hours), left, dead)


def _walked(line: LotLine, one: LotMachine, found: Found) -> MachineLine:
    """One that somebody stood before: it counts as run only where he ran it."""
    return MachineLine(
        f"{line.position}/{one.place}",
        line.named,
        _wanted(line, line.hours if one.hours is None else one.hours),
        dead=int(one.ran != LotMachine.Ran.RUNS),
        by_odds=one.by_odds,
        found=found.get(one.unit_id, {}),
    )


def _wanted(line: LotLine, hours: int | None) -> Wanted:
    model = line.model.current if line.model else None
    kind = model.kind_id if model else line.kind_id or ""
    return Wanted(model.pk if model else None, kind, hours, line.year)


def valuations_of(lot: Lot):
    """What a lot was valued at, newest first, without the inputs."""
    rows = lot.valuations.defer("inputs").select_related("wanted_by", "lot")
    return rows.order_by("-wanted_at", "-pk")


def latest_bid(lot: Lot) -> Valuation | None:
    """The newest bid that was reckoned from the lot's list, without the inputs. One query."""
    done = lot.valuations.filter(state=Valuation.State.DONE, again_of=None)
    return done.defer("inputs").order_by("-wanted_at", "-pk").first()
