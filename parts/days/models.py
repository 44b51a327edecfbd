from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _


class Calendar(models.Model):
    """One row: every day up to and including ``closed_through`` takes no more dated rows."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    closed_through = models.DateField(_("closed through"), null=True)

    class Meta:
        verbose_name = _("calendar")
        verbose_name_plural = _("calendar")
        constraints = [models.CheckConstraint(condition=Q(id=1), name="one_calendar")]

    def __str__(self):
        return str(self.closed_through or "")
