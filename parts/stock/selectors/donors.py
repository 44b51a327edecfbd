from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import Case, Count, Prefetch, Q, QuerySet, Sum, When

from parts.fits.selectors import Sisters
from parts.stock.models import Donor, DonorComponent
from units.catalogue.models import KindComponent, MachineModel, Unit


@dataclass(frozen=True)
class DonorHeld:
    """A piece that a donor still holds, or that lies in a bin without a part number; ``of_sister``
    when the donor is of another model that shares this component."""

    donor_id: int
    unit_id: int
    serial: str
    grade: str
    component: str
    of_sister: bool = False


def donor_components(
    models: Iterable[MachineModel],
    components: Iterable[str] | None = None,
    *,
    on: date | None = None,
    known_at: datetime | None = None,
    sisters: Sisters | None = None,
) -> dict[int, dict[str, list[DonorHeld]]]:
    """``{model id: {component slug: pieces}}``, the best first; nothing that is spent.

    What was taken with a part number lies on the shelf and is found there. ``on`` asks about a past
    day, ``known_at`` by what had been written down. With the links to sister models their donors
    follow those of the model itself, for what the two share. One query.
    """
    currents = {model.pk: model.merged_into_id or model.pk for model in models}
    sisters = sisters or {}
    asked = {*currents.values(), *(pk for found in sisters.values() for pk, _ in found)}
    family = MachineModel.objects.families_of(asked).values("pk")
    pieces = DonorComponent.objects.held_on(on, known_at).usable()
    pieces = pieces.filter(donor__unit__model__in=family)
    if components is not None:
        pieces = pieces.filter(component__in=list(components))
    by_model = defaultdict(list)
    for piece in pieces.select_related("donor__unit__model").order_by("id"):
        model = piece.donor.unit.model
        by_model[model.merged_into_id or model.pk].append(piece)
    return {
        pk: _by_component(by_model[current], _shared(by_model, sisters.get(current, ())))
        for pk, current in currents.items()
    }


def _shared(by_model: Mapping, links: Iterable) -> list[DonorComponent]:
    """The pieces of sisters' donors that serve here, each once."""
    pieces = {
        piece.pk: piece
        for sister, link in links
        for piece in by_model[sister]
        if link.component_id in (None, piece.component_id)
    }
    return list(pieces.values())


def _by_component(own: Iterable[DonorComponent], shared: Iterable[DonorComponent]):
    found = defaultdict(list)
    for pieces, of_sister in ((own, False), (shared, True)):
        for piece in sorted(pieces, key=_best_first):
            found[piece.component_id].append(_held(piece, of_sister))
    return dict(found)


def _best_first(piece: DonorComponent) -> int:
    return DonorComponent.Grade.values.index(piece.grade)


def _held(piece: DonorComponent, of_sister: bool) -> DonorHeld:
    unit = piece.donor.unit
    return DonorHeld(
        piece.donor_id, unit.pk, unit.serial, piece.grade, piece.component_id, of_sister
    )


def donors() -> QuerySet[Donor]:
    """Donors with their machine, how many pieces are ``held`` and what those carry of the cost."""
    held = Q(pieces__state=DonorComponent.State.HELD)
    rows = Donor.objects.select_related("unit__maker", "unit__model__maker").annotate(
        held=Count("pieces", filter=held), held_cost=Sum("pieces__cost", filter=held)
    )
    return rows.order_by("-stripped_on", "-id")


def with_pieces(donor: QuerySet[Donor]) -> QuerySet[Donor]:
    """With every piece as ``listed``, those that were scrapped last."""
    scrapped_last = Case(When(state=DonorComponent.State.SCRAPPED, then=1), default=0)
    pieces = DonorComponent.objects.order_by(scrapped_last, "id").select_related(
        "component", "part", "bin", "settled_by", "move"
    )
    return donor.select_related("recorded_by").prefetch_related(
        Prefetch("pieces", pieces, to_attr="listed")
    )


def strip_list(unit: Unit) -> list[KindComponent]:
    """The components of a machine's kind, in the order in which they are looked at. One query."""
    rows = KindComponent.objects.filter(kind=unit.model.kind_id).select_related("component")
    return list(rows.order_by("position"))


def cost_left_on(donor: Donor) -> Decimal:
    """What the pieces still kept, and not in the ledger, carry of its cost. One query."""
    held = DonorComponent.objects.held().filter(donor=donor)
    return held.aggregate(sum=Sum("cost"))["sum"] or Decimal(0)
