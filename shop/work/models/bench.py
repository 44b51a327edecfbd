"""What was taken and worked."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.stock.models import StockMove
from shop.till.domain.pricing import line_net
from shop.work.models.estimates import EstimateLine
from shop.work.models.jobs import WorkOrder
from units.rows.fields import MoneyField


class PartUse(models.Model):
    """A part taken from the shelf for a job: one stock move, one price."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="part_uses"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    move = models.OneToOneField(
        StockMove, models.PROTECT, verbose_name=_("stock move"), related_name="part_use"
    )
    line = models.ForeignKey(
        EstimateLine,
        models.PROTECT,
        verbose_name=_("line of the estimate"),
        related_name="uses",
        null=True,
        blank=True,
    )
    unit_price = MoneyField(_("price for one"))
    put_back = models.BooleanField(_("put back"), default=False)

    class Meta:
        ordering = ["id"]
        verbose_name = _("part used")
        verbose_name_plural = _("parts used")

    def __str__(self):
        return f"{self.job_id}: {self.move_id}"

    @property
    def quantity(self):
        return -self.move.quantity

    @property
    def net(self):
        return line_net(self.quantity, self.unit_price)


class TimeEntry(models.Model):
    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="time_entries"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    technician = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("technician"), related_name="+"
    )
    worked_on = models.DateField(_("worked on"))
    minutes = models.PositiveSmallIntegerField(_("minutes"))
    note = models.CharField(_("what was done"), max_length=400, blank=True)
    cost = MoneyField(_("cost"))
    recorded_at = models.DateTimeField(_("recorded at"))

    class Meta:
        ordering = ["worked_on", "id"]
        verbose_name = _("time")
        verbose_name_plural = _("times")
        constraints = [models.CheckConstraint(condition=Q(minutes__gt=0), name="time_has_minutes")]

    def __str__(self):
        return f"{self.job_id}: {self.minutes}"
