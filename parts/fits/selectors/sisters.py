"""The models that share parts with a model."""

from dataclasses import dataclass

from parts.fits.models import Sister
from units.catalogue.models import MachineModel
from units.catalogue.selectors import model_ids_of


@dataclass(frozen=True)
class SisterRow:
    """A link as it reads from one of its two models; ``other`` is the one on the far side."""

    link: Sister
    other: MachineModel


def sisters_of(model: MachineModel) -> list[SisterRow]:
    """Every link of a model under any of its names, the standing first. Two queries."""
    family = model_ids_of(model)
    links = Sister.objects.of_families(family).select_related(
        "model__maker", "other__maker", "component", "recorded_by", "withdrawn_by"
    )
    rows = [
        SisterRow(link, link.other if link.model_id in family else link.model)
        for link in links.order_by("pk")
    ]
    return sorted(rows, key=lambda row: row.link.withdrawn_at is not None)
