from collections import defaultdict
from collections.abc import Iterable

from units.catalogue.domain.keys import match_key
from units.catalogue.models import MachineModel, Maker, Unit

MOST_SUGGESTIONS = 12


def suggest_makers(text: str) -> list[Maker]:
    """Makers whose name holds these letters and digits; the first few for nothing typed."""
    return list(Maker.objects.suggested_by(match_key(text))[:MOST_SUGGESTIONS])


def suggest_models(text: str, maker_name: str = "") -> list[MachineModel]:
    """Current models of a maker (of all, if none is named) whose number holds what was typed."""
    models = MachineModel.objects.suggested_by(match_key(text)).select_related("maker", "kind")
    if maker_key := match_key(maker_name):
        models = models.filter(maker__key=maker_key)
    return list(models[:MOST_SUGGESTIONS])


def unit_by_serial(maker_name: str, serial: str) -> Unit | None:
    """The machine of this maker and serial, however the two are spaced or capitalised."""
    key = match_key(serial)
    if not key:
        return None
    units = Unit.objects.with_identity().filter(serial_key=key)
    return units.filter(maker__key=match_key(maker_name)).first()


def model_families(models: Iterable[MachineModel]) -> dict[int, list[int]]:
    """For each model's id: the ids of the current model behind it and of all merged into that.

    One query. What was recorded for any of them (a fit, an answer) holds for all.
    """
    wanted = [model.pk for model in models]
    members, current_of = defaultdict(list), {}
    rows = MachineModel.objects.families_of(wanted).order_by("pk").values_list("pk", "current_id")
    for pk, current_id in rows:
        current_of[pk] = current_id
        members[current_id].append(pk)
    return {pk: members[current_of[pk]] for pk in wanted}


def model_ids_of(model: MachineModel) -> list[int]:
    """The ids of one model's family: see :func:`model_families`."""
    return model_families([model])[model.pk]


def current_model(model: MachineModel) -> MachineModel:
    """The model as it stands in the database, or the one that it was merged into."""
    models = MachineModel.objects.select_related("maker", "merged_into__maker")
    return models.get(pk=model.pk).current
