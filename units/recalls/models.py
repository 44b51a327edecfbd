from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Unit


class RecallCheck(models.Model):
    """That somebody compared a machine with the current list of recalls, and what came of it."""

    class Outcome(models.TextChoices):
        NONE = "none", _("no recall fits")
        FITS = "fits", _("a recall fits")
        UNSURE = "unsure", _("cannot tell")

    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="recall_checks"
    )
    outcome = models.CharField(_("outcome"), max_length=8, choices=Outcome)
    source = models.CharField(_("list that was read"), max_length=120)
    note = models.CharField(_("note"), max_length=400, blank=True)
    checked_on = models.DateField(_("checked on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-checked_on", "-id"]
        verbose_name = _("recall check")
        verbose_name_plural = _("recall checks")

    def __str__(self):
        return f"{self.unit_id}: {self.outcome}"
