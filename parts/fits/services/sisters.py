"""Models that share their parts under two labels."""

from collections.abc import Iterable

from django.db import transaction
from django.utils.translation import gettext as _

from parts.fits.models import Sister
from parts.fits.services.refusing import PartError, require_evidence
from parts.fits.services.withdrawing import withdraw
from units.catalogue.models import Component, KindComponent, MachineModel


@transaction.atomic
def link_sisters(
    *,
    model: MachineModel,
    other: MachineModel,
    components: Iterable[Component] | None,
    evidence: str,
    by,
    at,
) -> list[Sister]:
    """Write down that two models share the parts of these components, or all when none is named.

    What was written down before is left as it is; PartError when nothing is new. A third model
    that is a sister of one of them is not made one of the other.
    """
    evidence = require_evidence(evidence)
    pair = _pair(model, other)
    wanted = list(components or []) or [None]
    _require_shared(*pair, wanted)
    known = set(
        Sister.objects.standing()
        .filter(model=pair[0], other=pair[1])
        .values_list("component", flat=True)
    )
    fresh = [one for one in wanted if None not in known and (one and one.pk) not in known]
    if not fresh:
        raise PartError(_("That these models share this is written down already."), "other")
    return [
        Sister.objects.create(
            model=pair[0],
            other=pair[1],
            component=component,
            evidence=evidence,
            recorded_at=at,
            recorded_by=by,
        )
        for component in fresh
    ]


def withdraw_sister(*, sister: Sister, reason: str, by, at) -> Sister:
    """It was wrong that the two share this: the link counts no longer."""
    return withdraw(sister, reason=reason, by=by, at=at)


def _pair(model: MachineModel, other: MachineModel) -> tuple[MachineModel, MachineModel]:
    """Both as they stand now, locked, the lower id first."""
    ids = {model.current.pk, other.current.pk}
    models = MachineModel.objects.select_for_update(of=("self",)).order_by("pk")
    pair = list(models.filter(pk__in=ids).select_related("kind"))
    if len(pair) < 2:
        raise PartError(_("A model shares its parts with itself. Choose another one."), "other")
    return tuple(pair)


def _require_shared(one: MachineModel, other: MachineModel, components) -> None:
    """Both kinds must have what they are said to share."""
    if components == [None]:
        if one.kind_id != other.kind_id:
            raise PartError(
                _("These are two kinds of machine. Choose the components that they share."),
                "components",
            )
        return
    kinds = KindComponent.objects.filter(kind__in={one.kind_id, other.kind_id})
    owned = set(kinds.values_list("kind", "component"))
    for component in components:
        for model in (one, other):
            if (model.kind_id, component.pk) not in owned:
                raise PartError(
                    _("%(model)s has no %(component)s.")
                    % {"model": model, "component": _(component.name)},
                    "components",
                )
