"""How old machines of a model are, as far as their plates say."""

import re
from collections.abc import Iterable
from datetime import date

from units.catalogue.models import MachineModel
from units.plates.models import PlateRecord

YEAR = re.compile(r"(?:19|20)\d\d")


def years_since_made(
    models: Iterable[MachineModel], families: dict[int, list[int]], on: date
) -> dict[int, float]:
    """``{model id: years since the newest known machine of it was made}``. One query."""
    members = {pk: model.pk for model in models for pk in families[model.pk]}
    records = PlateRecord.objects.filter(unit__model__in=members).exclude(made="")
    newest: dict[int, int] = {}
    for model, made in records.values_list("unit__model", "made"):
        if year := YEAR.search(made):
            pk = members[model]
            newest[pk] = max(newest.get(pk, 0), int(year.group()))
    return {pk: max(0.0, float(on.year - year)) for pk, year in newest.items()}
