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


class Clock(models.Model):
    """A technician's running clock on a job: started on one page, stopped on any other.

    Stopping it writes the time, unless nothing was worked. Nobody has two running.
    """

    job = models.ForeignKey(WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="clocks")
    key = models.UUIDField(_("once-only key"), unique=True)
    technician = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("technician"), related_name="+"
    )
    started_at = models.DateTimeField(_("started at"))
    stopped_at = models.DateTimeField(_("stopped at"), null=True, blank=True)
    entry = models.OneToOneField(
        TimeEntry,
        models.PROTECT,
        verbose_name=_("time"),
        related_name="clock",
        null=True,
        blank=True,
    )

    class Meta:
        ordering = ["started_at", "id"]
        verbose_name = _("clock")
        verbose_name_plural = _("clocks")
        constraints = [
            models.UniqueConstraint(
                fields=["technician"],
                condition=Q(stopped_at=None),
                name="one_running_clock_a_technician",
            ),
            models.CheckConstraint(
                condition=Q(stopped_at=None, entry=None)
                | Q(stopped_at__gte=models.F("started_at")),
                name="clock_stops_after_it_started",
            ),
        ]

    def __str__(self):
        return f"{self.job_id}: {self.technician_id}"


class Assignment(models.Model):
    """That a job was given to a technician, or to nobody any more. Only grows; the newest counts
    and stands on the job."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="assignments"
    )
    technician = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("technician"),
        related_name="+",
        null=True,
        blank=True,
    )
    made_at = models.DateTimeField(_("made at"))
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("made by"), related_name="+"
    )

    class Meta:
        ordering = ["made_at", "id"]
        verbose_name = _("assignment")
        verbose_name_plural = _("assignments")

    def __str__(self):
        return f"{self.job_id}: {self.technician_id}"


class BenchHours(models.Model):
    """The minutes a week that a technician has for the bench, from a day on."""

    technician = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("technician"),
        related_name="bench_hours",
    )
    minutes_a_week = models.PositiveSmallIntegerField(_("minutes a week"))
    from_on = models.DateField(_("from"))

    class Meta:
        ordering = ["technician", "-from_on"]
        verbose_name = _("bench hours")
        verbose_name_plural = _("bench hours")
        constraints = [
            models.UniqueConstraint(
                fields=["technician", "from_on"], name="bench_hours_once_a_day"
            ),
            models.CheckConstraint(
                condition=Q(minutes_a_week__lte=7 * 24 * 60), name="a_week_has_no_more"
            ),
        ]

    def __str__(self):
        return f"{self.technician_id}: {self.minutes_a_week}"
