"""A link of parts or models, or a fit, that was wrong."""

from django.db import transaction
from django.utils.translation import gettext as _

from parts.fits.services.refusing import PartError


@transaction.atomic
def withdraw(link, *, reason: str, by, at):
    """Mark a supersession, a sister or a fit as withdrawn, once, with the reason."""
    reason = " ".join(reason.split())
    if not reason:
        raise PartError(_("Say why it was wrong."), "reason")
    locked = type(link).objects.select_for_update(of=("self",)).get(pk=link.pk)
    if locked.withdrawn_at:
        raise PartError(
            _("This was withdrawn before: %(reason)s") % {"reason": locked.withdrawn_because}
        )
    locked.withdrawn_at, locked.withdrawn_by, locked.withdrawn_because = at, by, reason
    locked.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_because"])
    return locked
