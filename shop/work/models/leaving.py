"""What goes with a machine when it leaves."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from shop.till.models import Invoice
from shop.work.models.jobs import WorkOrder


class Notice(models.Model):
    """A written notice that goes with a machine leaving declined or unsafe."""

    job = models.OneToOneField(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="notice"
    )
    text = models.TextField(_("text"))
    written_at = models.DateTimeField(_("written at"))
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("written by"), related_name="+"
    )

    class Meta:
        verbose_name = _("notice")
        verbose_name_plural = _("notices")

    def __str__(self):
        return f"{self.job_id}"


class HandBack(models.Model):
    """A customer's machine leaving: who took it, what went along, on which invoice."""

    job = models.OneToOneField(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="hand_back"
    )
    taken_by = models.CharField(_("taken by"), max_length=120)
    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="+", null=True, blank=True
    )
    handed_at = models.DateTimeField(_("handed back at"))
    handed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("handed back by"), related_name="+"
    )

    class Meta:
        verbose_name = _("hand-back")
        verbose_name_plural = _("hand-backs")

    def __str__(self):
        return f"{self.job_id}: {self.taken_by}"
