from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Prefetch, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from shop.lots.models import Lot, LotLine, LotMachine, LotMatter, LotSource, LotStep
from units.plates.domain.proposal import FieldName

SORTS = LotLine.Sort


def lot_rows() -> QuerySet[Lot]:
    """Lots with ``machines``, how many of them, newest first."""
    return Lot.objects.select_related("seller").counted().order_by("-offered_on", "-pk")


def lot_page() -> QuerySet[Lot]:
    """A lot with its lines; each line's model is the one that it was merged into, if it was."""
    return Lot.objects.select_related("seller").prefetch_related(
        Prefetch("lines", lines_of().exclude(state=LotLine.State.DROPPED)),
        Prefetch("sources", sources()),
        Prefetch("log", LotStep.objects.select_related("recorded_by")),
        Prefetch("matters", LotMatter.objects.select_related("recorded_by")),
    )


def lines_of() -> QuerySet[LotLine]:
    """Lines with their models and the sheet and row that they came from, in order."""
    return LotLine.objects.select_related(
        "model__maker", "model__merged_into__maker", "kind", "row"
    ).order_by("position")


def offered_models(models: QuerySet | None = None) -> Counter:
    """``{model id: machines}`` of what sellers offer and is not ours yet, of lines that are sure or
    confirmed; of these models alone where they are given. What was merged into another counts as
    that one. One query."""
    lines = LotLine.objects.exclude(lot__state__in=[Lot.State.TAKEN, Lot.State.LEFT])
    lines = lines.filter(Q(sure=True) | Q(state=LotLine.State.CONFIRMED), model__isnull=False)
    lines = lines.exclude(state=LotLine.State.DROPPED)
    if models is not None:
        lines = lines.filter(model__in=models)
    counted = lines.order_by().values_list(Coalesce("model__merged_into", "model"))
    return Counter(dict(counted.annotate(machines=Sum("count"))))


def sources() -> QuerySet[LotSource]:
    """Lists without their content, with how many rows ended as what."""
    fates = {
        name: Count("rows", filter=Q(rows__fate=fate))
        for name, fate in (("lines", "line"), ("not_lines", "not-line"), ("open", "question"))
    }
    return LotSource.objects.defer("content").annotate(**fates).order_by("sent_at")


def machines_of(lot: Lot) -> QuerySet[LotMachine]:
    """The machines of a lot in the order of its lines."""
    machines = LotMachine.objects.filter(line__lot=lot)
    return machines.select_related(
        "line__model__maker", "line__model__merged_into__maker", "line__kind", "unit", "reading"
    ).order_by("line__position", "place")


def goods_of(lot: Lot) -> QuerySet[LotLine]:
    """The lines of goods of a lot in their order, with what was found of each at load-out."""
    lines = LotLine.objects.filter(lot=lot, sort=SORTS.GOODS, state=LotLine.State.CONFIRMED)
    return lines.select_related("at_truck__counted_by").order_by("position")


def plate_of(machine: LotMachine) -> dict[str, str]:
    """What the photo of a machine's plate is read as: ``number`` and ``serial``; empty before."""
    proposal = machine.reading.read if machine.reading else None
    if proposal is None:
        return {}
    said = {"number": FieldName.MODEL, "serial": FieldName.SERIAL}
    return {name: proposal.text_of(of) for name, of in said.items()}


def open_lines(lot: Lot) -> int:
    """How many lines wait to be confirmed or left out."""
    return LotLine.objects.filter(lot=lot, state=LotLine.State.PROPOSED).count()


@dataclass(frozen=True)
class Standing:
    """How a question before payment stands: the newest answer, or none."""

    matter: str
    label: str
    answer: LotMatter | None

    @property
    def is_open(self) -> bool:
        return self.answer is None or self.answer.outcome == LotMatter.Outcome.AGAINST


def standings(answers: Iterable[LotMatter]) -> list[Standing]:
    """The four questions before payment; ``answers`` in the order in which they were written."""
    newest = {answer.matter: answer for answer in answers}
    return [
        Standing(matter, label, newest.get(matter)) for matter, label in LotMatter.Matter.choices
    ]
