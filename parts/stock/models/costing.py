from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _


class CostingChoice(models.Model):
    """By which method parts are costed from then on: the newest choice holds, none means FIFO."""

    class Method(models.TextChoices):
        FIFO = "fifo", _("first in, first out")
        AVERAGE = "average", _("moving average")

    method = models.CharField(_("method"), max_length=10, choices=Method)
    reason = models.CharField(_("reason"), max_length=200)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["id"]
        verbose_name = _("choice of costing")
        verbose_name_plural = _("choices of costing")

    def __str__(self):
        return self.get_method_display()
