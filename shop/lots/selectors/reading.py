"""What sellers' lists are read with, and the list as one reads it without keeping anything."""

from collections.abc import Callable, Mapping

from django.core.files.uploadedfile import UploadedFile

from shop.lots.domain.lists.matching import Catalogue, Known
from shop.lots.domain.lists.reading import nobody, read_list
from shop.lots.domain.lists.source import Reading
from shop.lots.models import LotLine, LotSource, MakerAlias
from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel
from units.sheets.services import read_tables


def catalogue() -> Catalogue:
    """The models that may be meant. A number that was merged into another leads to that one.

    Three queries.
    """
    rows = MachineModel.objects.select_related("maker").order_by("pk")
    known = [
        Known(one.merged_into_id or one.pk, one.maker.name, one.number, one.kind_id, one.name)
        for one in rows
    ]
    aliases = dict(MakerAlias.objects.values_list("name", "maker__name"))
    return Catalogue(known, aliases, _learnt())


def _learnt() -> Mapping[str, int]:
    """What people took a text for where it is no number of a model; the latest word counts."""
    lines = LotLine.objects.filter(state=LotLine.State.CONFIRMED, model__isnull=False)
    said = lines.order_by("settled_at", "pk").values_list("text", "model_id")
    return {match_key(text): model for text, model in said}


def read_upload(
    upload: UploadedFile,
    chosen: Mapping[tuple[str, int], Mapping[int, str]] | None = None,
    told: Callable[[int, int], None] = nobody,
) -> Reading:
    """A list as it reads today. Raises SheetRefusedError."""
    return read_list(read_tables(upload), catalogue(), chosen, told)


def chosen_of(source: LotSource) -> dict[tuple[str, int], dict[int, str]]:
    """The roles that a person gave the columns of a list, as the reader takes them."""
    found = {}
    for place, roles in source.chosen.items():
        sheet, _, row = place.rpartition("|")
        found[sheet, int(row)] = {int(column): role for column, role in roles.items()}
    return found
