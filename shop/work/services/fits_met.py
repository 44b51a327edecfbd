"""What a job uses tells what fits its machine's model."""

from contextlib import suppress

from django.utils.translation import gettext as _

from parts.fits.selectors import fits_of
from parts.fits.services import PartError, add_fit, take_back_fit
from shop.work.models import PartUse


def write_fit(use: PartUse, by, at) -> None:
    """Write down that a part fits the model that it was taken for, unless a fit says so already."""
    unit, part = use.job.unit, use.move.part
    if unit is None:
        return
    if any(fit.part_id == part.pk for fit in fits_of([unit.model])[unit.model_id]):
        return
    quantity = use.line.quantity if use.line else use.quantity
    # Somebody may have written it down in the same moment: then it stands, which is all we want.
    with suppress(PartError):
        add_fit(
            part=part, model=unit.model, quantity=quantity, evidence=_used_on(use), by=by, at=at
        )


def unwrite_fit(use: PartUse, by, at) -> None:
    """Take back the fit that only this use told of; another use of the part tells it instead."""
    if use.job.unit is None or not take_back_fit(part=use.move.part, evidence=_used_on(use)):
        return
    model = use.job.unit.model_id
    others = PartUse.objects.filter(move__part=use.move.part, job__unit__model=model)
    others = others.exclude(put_back=True).select_related("job__unit__model", "line", "move__part")
    if other := others.first():
        write_fit(other, by, at)


def _used_on(use: PartUse) -> str:
    return _("used on job %(number)s") % {"number": use.job.number}
