"""The minutes that a kind of work usually takes, as this shop finds them."""

from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.utils.translation import gettext as _

from shop.work.models import FlatRate
from shop.work.services.errors import JobError
from units.catalogue.models import Component, Kind, KindComponent

MOST = 24 * 60


@transaction.atomic
def set_flat_rate(
    *,
    act: str,
    component: Component,
    kind: Kind | None,
    minutes: int,
    by: AbstractBaseUser,
    at: datetime,
) -> FlatRate:
    """Say how long work on a component takes, in every kind of machine or in one. Estimates that
    are made from now on take it; those that stand do not change. Raises JobError."""
    if not 0 < minutes <= MOST:
        raise JobError(_("Write how many minutes it takes, from 1 to %(most)d.") % {"most": MOST})
    Component.objects.select_for_update().get(pk=component.pk)
    has = KindComponent.objects.filter(component=component)
    if kind and not has.filter(kind=kind).exists():
        raise JobError(_("This kind of machine has no such component. Choose another kind."))
    rate, _made = FlatRate.objects.update_or_create(
        act=FlatRate.Act(act),
        component=component,
        kind=kind,
        defaults={"minutes": minutes, "changed_at": at, "changed_by": by},
    )
    return rate
