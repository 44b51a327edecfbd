"""What the screen shows on which a list is confirmed."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from django.db.models import Count

from shop.lots.domain.lists.matching import LIKELY
from shop.lots.models import Lot, LotLine, LotSource, SourceRow
from shop.lots.selectors.lots import lines_of, sources
from units.catalogue.models import MachineModel

MOST_SHOWN = 300  # of each sort at a time: a form has a bound, and a person too


@dataclass(frozen=True)
class Choice:
    """A model that may be meant and how sure that is in percent; ``pk`` None is "as typed"."""

    pk: int | None
    label: str
    sure: int | None = None


@dataclass
class Group:
    """Lines that say the same: one choice decides all of them."""

    number: int
    lines: list[LotLine] = field(default_factory=list)
    choices: list[Choice] = field(default_factory=list)

    @property
    def ids(self) -> str:
        return ",".join(str(line.pk) for line in self.lines)


@dataclass(frozen=True)
class Checking:
    """A lot's lists on their way to a confirmed lot. ``counts`` are rows by fate."""

    sources: list[LotSource]
    sure: list[LotLine]
    groups: list[Group]
    asked: list[LotLine]
    confirmed: list[LotLine]
    not_lines: list[SourceRow]
    counts: dict[str, int]
    more: int

    @property
    def waits(self) -> bool:
        return any(source.waits for source in self.sources)

    @property
    def open(self) -> int:
        return len(self.sure) + sum(len(group.lines) for group in self.groups) + len(self.asked)

    @property
    def unsure(self) -> int:
        return sum(len(group.lines) for group in self.groups)


def checking_of(lot: Lot) -> Checking:
    """Six queries."""
    lines = list(lines_of().filter(lot=lot).exclude(state=LotLine.State.DROPPED))
    proposed = [line for line in lines if line.state == LotLine.State.PROPOSED]
    asked = [line for line in proposed if line.row and line.row.fate == SourceRow.Fate.QUESTION]
    ids = {line.pk for line in asked}
    sure = [line for line in proposed if line.sure and line.pk not in ids]
    unsure = [line for line in proposed if not line.sure and line.pk not in ids]
    rows = SourceRow.objects.filter(source__lot=lot)
    counts = dict(rows.order_by().values_list("fate").annotate(count=Count("pk")))
    not_lines = rows.filter(fate=SourceRow.Fate.NOT_LINE).order_by("source__sent_at", "place")
    shown = unsure[:MOST_SHOWN]
    return Checking(
        sources=list(sources().filter(lot=lot)),
        sure=sure,
        groups=_groups(shown),
        asked=asked[:MOST_SHOWN],
        confirmed=[line for line in lines if line.state == LotLine.State.CONFIRMED],
        not_lines=list(not_lines[:MOST_SHOWN]),
        counts={name: counts.get(name, 0) for name in SourceRow.Fate.values},
        more=len(unsure) - len(shown) + max(0, len(asked) - MOST_SHOWN),
    )


def _groups(lines: Sequence[LotLine]) -> list[Group]:
    ids = {pk for line in lines for pk, _sure in line.candidates}
    models = MachineModel.objects.select_related("maker").in_bulk(ids)
    groups: dict[tuple, Group] = {}
    for line in lines:
        said = (line.sort, line.goods, line.maker, line.number, line.kind_id, str(line.candidates))
        if said not in groups:
            groups[said] = Group(len(groups), [], _choices(line, models))
        groups[said].lines.append(line)
    return list(groups.values())


def _choices(line: LotLine, models) -> list[Choice]:
    known = [(models.get(pk), sure) for pk, sure in line.candidates]
    found = [Choice(model.pk, str(model), sure) for model, sure in known if model]
    typed = " ".join(filter(None, [line.maker, line.number])) or line.text
    if line.sort != LotLine.Sort.MACHINE:
        return []
    # What is not even likely stands behind what was written.
    likely = [one for one in found if one.sure >= 100 * LIKELY]
    return [*likely, Choice(None, typed), *found[len(likely) :]]
