from django.db import models
from django.utils.translation import gettext_lazy as _


class NumberSeries(models.Model):
    """The last number given out in a series of documents (jobs, invoices, receipts ...)."""

    name = models.CharField(_("series"), max_length=40, primary_key=True)
    last = models.PositiveBigIntegerField(_("last number"), default=0)

    class Meta:
        verbose_name = _("number series")
        verbose_name_plural = _("number series")

    def __str__(self):
        return f"{self.name}: {self.last}"
