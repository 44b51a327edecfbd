"""Parts, and what they fit."""

from decimal import Decimal

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from parts.fits.models import Fit, Part
from parts.fits.services.refusing import PartError
from parts.fits.services.withdrawing import withdraw
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Component, MachineModel, Maker


@transaction.atomic
def add_part(*, maker: Maker | None, number: str, name: str, component: Component) -> Part:
    """A part that nobody had met; :class:`PartError` when its maker's number is known already."""
    part, added = _find_or_add(maker, number, name, component)
    if not added:
        raise PartError(
            _("%(part)s is here already. Add what it fits on its page instead.")
            % {"part": f"{part.number} {part.name}"},
            "number",
        )
    return part


@transaction.atomic
def find_or_add_part(*, maker: Maker | None, number: str, name: str, component: Component) -> Part:
    """The part of this maker's number, added with name and component when nobody had met it."""
    return _find_or_add(maker, number, name, component)[0]


@transaction.atomic
def add_fit(
    *,
    part: Part,
    model: MachineModel,
    quantity: Decimal,
    evidence: str,
    position: str = "",
    by,
    at,
) -> Fit:
    """Write down that a part fits a model. A model merged into another stands for that one.

    What was withdrawn may be written down anew, on its own evidence.
    """
    evidence = " ".join(evidence.split())
    if not evidence:
        raise PartError(_("Say how we know that it fits, for instance “tried on”."), "evidence")
    if quantity <= 0:
        raise PartError(_("A machine needs more than none of it."), "quantity")
    model = model.current
    fit, added = Fit.objects.standing().get_or_create(
        part=part,
        model=model,
        defaults={
            "quantity": quantity,
            "position": " ".join(position.split()),
            "evidence": evidence,
            "recorded_at": at,
            "recorded_by": by,
        },
    )
    if not added:
        raise PartError(
            _("That %(part)s fits %(model)s is written down already: %(evidence)s.")
            % {"part": part.number, "model": model, "evidence": fit.evidence},
            "model",
        )
    return fit


@transaction.atomic
def take_back_fit(*, part: Part, evidence: str) -> bool:
    """Remove the fit that rests on this evidence alone, when what it tells was undone."""
    return bool(Fit.objects.standing().filter(part=part, evidence=evidence).delete()[0])


def withdraw_fit(*, fit: Fit, reason: str, by, at) -> Fit:
    """It was wrong that the part fits the model: the row stays and counts no longer."""
    return withdraw(fit, reason=reason, by=by, at=at)


def _find_or_add(maker, number, name, component) -> tuple[Part, bool]:
    number, name = " ".join(number.split()), " ".join(name.split())
    key = match_key(number)
    if not key:
        raise PartError(_("A part number needs at least one letter or digit."), "number")
    if len(key) > Part._meta.get_field("key").max_length:
        raise PartError(_("This part number is too long."), "number")
    found = Part.objects.filter(maker=maker, key=key).first()
    if found:
        return found, False
    if not name:
        raise PartError(_("Say what the part is called."), "name")
    try:
        with transaction.atomic():
            return Part.objects.create(
                maker=maker, number=number, key=key, name=name, component=component
            ), True
    except IntegrityError:  # somebody added it in the same moment
        return Part.objects.get(maker=maker, key=key), False
