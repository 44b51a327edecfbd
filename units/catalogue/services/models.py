from dataclasses import dataclass, fields
from decimal import Decimal

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from units.catalogue.domain.keys import match_key
from units.catalogue.models import Kind, MachineModel, Maker, Unit
from units.catalogue.services.errors import CatalogueError


@dataclass(frozen=True)
class ModelFacts:
    """What is known of a model: volts, hertz and amps of its supply, mass in kilograms."""

    number: str
    kind: Kind
    name: str = ""
    grade: str = ""
    volts: int | None = None
    hertz: int | None = None
    amps: Decimal | None = None
    plug: str = ""
    mass: Decimal | None = None
    confirmed: bool = True


def find_or_add_maker(*, name: str) -> Maker:
    """The maker of this name, however it is spaced or capitalised. Raises CatalogueError."""
    name, key = _named(name, Maker, "name", _("A maker's name"))
    return Maker.objects.get_or_create(key=key, defaults={"name": name})[0]


def find_or_add_model(*, maker: Maker, number: str, kind: Kind | None) -> MachineModel:
    """The model of this number, or the one it was merged into; a new one is unconfirmed.

    ``kind`` is needed only for a model that nobody has met. Raises CatalogueError.
    """
    number, key = _named(number, MachineModel, "number", _("A model number"))
    models = MachineModel.objects.select_related("merged_into__maker", "maker")
    model = models.filter(maker=maker, key=key).first()
    if model is None:
        if kind is None:
            raise CatalogueError(
                _("%(maker)s %(number)s is new here. Say what kind of machine it is.")
                % {"maker": maker, "number": number}
            )
        defaults = {"number": number, "kind": kind}
        model = models.get_or_create(maker=maker, key=key, defaults=defaults)[0]
    return model.current


@transaction.atomic
def save_model(*, model: MachineModel, facts: ModelFacts) -> MachineModel:
    """Correct what is known of a model. Raises CatalogueError."""
    model = MachineModel.objects.select_for_update().get(pk=model.pk)
    number, key = _named(facts.number, MachineModel, "number", _("A model number"))
    for field in fields(facts):
        setattr(model, field.name, getattr(facts, field.name))
    model.number, model.key = number, key
    try:
        with transaction.atomic():
            model.save()
    except IntegrityError as error:
        raise CatalogueError(
            _("%(maker)s has a model %(number)s already. Merge the two instead.")
            % {"maker": model.maker, "number": number}
        ) from error
    return model


@transaction.atomic
def merge_model(*, model: MachineModel, into: MachineModel) -> MachineModel:
    """Say that two entries are one model: machines move, what else points at the old one stays.

    Readers of facts about a model ask ``selectors.model_families``. No entry is merged into a
    merged one, so that one step always leads to the current model. Raises CatalogueError.
    """
    locked = MachineModel.objects.select_for_update().order_by("pk").in_bulk([model.pk, into.pk])
    model, into = locked[model.pk], locked[into.pk]
    _refuse_merge(model, into)
    if model.maker_id != into.maker_id:
        _refuse_shared_serials(model, into)
    Unit.objects.filter(model=model).update(model=into, maker=into.maker)
    MachineModel.objects.filter(merged_into=model).update(merged_into=into)
    model.merged_into = into
    model.save(update_fields=["merged_into"])
    return into


def _refuse_merge(model: MachineModel, into: MachineModel) -> None:
    if model == into:
        raise CatalogueError(_("A model cannot be merged into itself. Choose another one."))
    if model.merged_into_id:
        raise CatalogueError(
            _("%(model)s was merged into %(into)s already.")
            % {"model": model, "into": model.merged_into}
        )
    if into.merged_into_id:
        raise CatalogueError(
            _("%(model)s was itself merged into %(into)s. Choose that one.")
            % {"model": into, "into": into.merged_into}
        )
    if model.kind_id != into.kind_id:
        raise CatalogueError(
            _("%(model)s and %(into)s are different kinds of machine. Correct the kind first.")
            % {"model": model, "into": into}
        )


def _refuse_shared_serials(model: MachineModel, into: MachineModel) -> None:
    serials = Unit.objects.filter(model=model).exclude(serial_key="").values("serial_key")
    clash = Unit.objects.filter(maker=into.maker, serial_key__in=serials).first()
    if clash:
        raise CatalogueError(
            _(
                "Serial number %(serial)s is known for both makers, so these are two machines or "
                "one entered twice. Read both plates before merging."
            )
            % {"serial": clash.serial}
        )


def _named(text: str, entity, field: str, subject: str) -> tuple[str, str]:
    """The text with single spaces, and its key; both must fit where they are kept."""
    tidy = " ".join(text.split())
    key = match_key(tidy)
    most = entity._meta.get_field(field).max_length
    if not key:
        raise CatalogueError(
            _("%(subject)s needs at least one letter or digit.") % {"subject": subject}
        )
    if max(len(tidy), len(key)) > most:
        raise CatalogueError(
            _("%(subject)s has at most %(most)d characters.") % {"subject": subject, "most": most}
        )
    return tidy, key
