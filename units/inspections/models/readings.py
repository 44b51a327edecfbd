"""What a measuring tool gave, kept with the machine."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Unit
from units.inspections.models.inspections import Inspection
from units.inspections.querysets import MeasureReadingQuerySet
from units.rows.fields import FixedPointField


class MeasureReading(models.Model):
    """One result of a tool: ``value`` and its standard uncertainty, both in ``measure``.

    ``name`` says what was measured, as the step of a protocol that asks for the same does by its
    key: both stand in one chart. ``inputs`` are the fields as they were given, with their measures.
    Speed (m/s) and walker (kg) tell whether two readings were taken alike. A baseline is one that
    was taken on a sound machine, to be compared with later.
    """

    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="readings"
    )
    inspection = models.ForeignKey(
        Inspection,
        models.PROTECT,
        verbose_name=_("inspection"),
        related_name="readings",
        null=True,
        blank=True,
    )
    tool = models.SlugField(_("tool"), max_length=40)
    name = models.SlugField(_("what was measured"), max_length=40)
    value = FixedPointField(_("value"), places=6)
    uncertainty = FixedPointField(_("standard uncertainty"), places=6)
    measure = models.CharField(_("measure"), max_length=12, blank=True)
    inputs = models.JSONField(_("as given"), default=dict)
    speed = FixedPointField(_("speed, m/s"), places=4, null=True, blank=True)
    walker = FixedPointField(_("walker, kg"), places=2, null=True, blank=True)
    is_baseline = models.BooleanField(_("baseline"), default=False)
    note = models.CharField(_("note"), max_length=400, blank=True)
    key = models.UUIDField(_("once-only key"), unique=True, editable=False)
    taken_at = models.DateTimeField(_("taken at"))
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken by"), related_name="+"
    )

    objects = MeasureReadingQuerySet.as_manager()

    class Meta:
        ordering = ["taken_at", "id"]
        verbose_name = _("reading")
        verbose_name_plural = _("readings")
        constraints = [
            models.CheckConstraint(
                condition=Q(uncertainty__gte=0), name="reading_uncertainty_not_negative"
            ),
        ]

    def __str__(self):
        return f"{self.name}: {self.value} {self.measure}".strip()


class ReadingWithdrawal(models.Model):
    """That a reading does not count, and why."""

    reading = models.OneToOneField(
        MeasureReading, models.PROTECT, verbose_name=_("reading"), related_name="withdrawal"
    )
    reason = models.CharField(_("why"), max_length=200)
    withdrawn_at = models.DateTimeField(_("withdrawn at"))
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("withdrawn by"), related_name="+"
    )

    class Meta:
        verbose_name = _("withdrawn reading")
        verbose_name_plural = _("withdrawn readings")
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="reading_withdrawn_with_a_reason"),
        ]

    def __str__(self):
        return f"{self.reading_id}: {self.reason}"
