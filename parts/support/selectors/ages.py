"""How old machines of a model are, as far as their plates say."""

import re
from collections.abc import Iterable
from datetime import date

from django.core.cache import cache
from django.db.models.functions import Coalesce

from parts.answers.selectors import kept_name
from units.catalogue.models import MachineModel
from units.plates.models import PlateRecord

YEAR = re.compile(r"(?:19|20)\d\d")
KEPT_SECONDS = 24 * 3600


def years_since_made(models: Iterable[MachineModel], on: date) -> dict[int, float]:
    """``{model id: years since the newest known machine of it was made}``, of those known.

    Read with the odds, once a day: a plate that is read today counts from tomorrow on. One query
    then, else none.
    """
    newest = cache.get_or_set(kept_name("made"), newest_made, KEPT_SECONDS)
    return {
        model.pk: max(0.0, float(on.year - newest[current]))
        for model in models
        if (current := model.merged_into_id or model.pk) in newest
    }


def newest_made() -> dict[int, int]:
    """``{current model id: year}`` in which its newest known machine was made. One query."""
    records = PlateRecord.objects.exclude(made="").order_by()
    model = Coalesce("unit__model__merged_into", "unit__model")
    newest: dict[int, int] = {}
    for pk, made in records.values_list(model, "made").distinct():
        if year := YEAR.search(made):
            newest[pk] = max(newest.get(pk, 0), int(year.group()))
    return newest
