"""What the background worker is asked to do for valuations."""

from django.utils import timezone
from django.utils.translation import gettext as _
from django_tasks import task

from shop.lots.models import Valuation
from shop.lots.services.valuing.reckoning import keep_failed, reckon_valuation


@task
def reckon(pk: int) -> None:
    """Reckon one valuation. A fault of ours is written down with it, and told in the log."""
    try:
        reckon_valuation(pk=pk, at=timezone.now())
    except Exception:
        valuation = Valuation.objects.get(pk=pk)
        trouble = _("The shop's computer failed at it. Try again, or tell whoever looks after it.")
        keep_failed(valuation=valuation, trouble=trouble, at=timezone.now())
        raise
