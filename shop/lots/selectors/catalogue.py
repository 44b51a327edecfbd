"""The models that sellers' lists are held against."""

from shop.lots.domain.lists.matching import Catalogue, Known
from units.catalogue.models import MachineModel


def known_models() -> Catalogue:
    """Every current model. One query."""
    rows = MachineModel.objects.current().select_related("maker").order_by("pk")
    return Catalogue(
        Known(row.pk, row.maker.name, row.number, row.kind_id, row.name) for row in rows
    )
