"""How old machines of a model are, as far as their plates say."""

import re
from collections.abc import Iterable
from datetime import date

from django.db.models.functions import Coalesce

from units.catalogue.models import MachineModel
from units.plates.models import PlateRecord

YEAR = re.compile(r"(?:19|20)\d\d")


def years_since_made(models: Iterable[MachineModel], on: date) -> dict[int, float]:
    """``{model id: years since the newest known machine of it was made}``. One query."""
    currents = {model.pk: model.merged_into_id or model.pk for model in models}
    family = MachineModel.objects.families_of(currents.values()).values("pk")
    records = PlateRecord.objects.filter(unit__model__in=family).exclude(made="")
    newest: dict[int, int] = {}
    for pk, made in records.values_list(
        Coalesce("unit__model__merged_into", "unit__model"), "made"
    ):
        if year := YEAR.search(made):
            newest[pk] = max(newest.get(pk, 0), int(year.group()))
    return {
        pk: max(0.0, float(on.year - newest[current]))
        for pk, current in currents.items()
        if current in newest
    }
