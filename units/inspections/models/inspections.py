"""One walk through a protocol, and what came of each step."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.binder.models import ErrorCode
from units.catalogue.models import Unit
from units.files.models import StoredFile
from units.inspections.domain.judging import CODE_SHOWN
from units.inspections.models.outcomes import Population
from units.inspections.models.protocols import Protocol, ProtocolStep
from units.inspections.querysets import InspectionQuerySet, StepResultQuerySet
from units.rows.fields import FixedPointField


class Inspection(models.Model):
    """One walk. ``asked`` lists the keys of the steps that it needs, None for all of its
    protocol; ``run_in`` is in minutes."""

    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="inspections"
    )
    protocol = models.ForeignKey(
        Protocol, models.PROTECT, verbose_name=_("protocol"), related_name="inspections"
    )
    document = models.CharField(_("for document"), max_length=40, blank=True)
    population = models.CharField(
        _("where the machine came from"), max_length=8, choices=Population, blank=True
    )
    asked = models.JSONField(_("steps asked"), null=True, blank=True)
    run_in = models.PositiveSmallIntegerField(_("minutes of the run-in"), null=True, blank=True)
    opened_at = models.DateTimeField(_("opened at"))
    opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("opened by"), related_name="+"
    )
    finished_at = models.DateTimeField(_("finished at"), null=True)
    finished_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("finished by"),
        related_name="+",
        null=True,
    )

    objects = InspectionQuerySet.as_manager()

    class Meta:
        ordering = ["-opened_at", "-id"]
        verbose_name = _("inspection")
        verbose_name_plural = _("inspections")
        constraints = [
            models.UniqueConstraint(
                fields=["unit", "protocol", "document"],
                condition=Q(finished_at=None),
                name="one_open_inspection_a_protocol",
            ),
            models.CheckConstraint(
                condition=Q(finished_at=None, finished_by=None)
                | Q(finished_at__isnull=False, finished_by__isnull=False),
                name="inspection_finished_by_someone",
            ),
        ]

    def __str__(self):
        return f"{self.protocol}: {self.unit}"

    @property
    def is_finished(self) -> bool:
        return self.finished_at is not None


class StepResult(models.Model):
    """What came of one step. Open inspections may be corrected, finished ones may not.

    ``error_code`` is the code that the display showed, where the model's binder has it.
    """

    class Outcome(models.TextChoices):
        PASS = "pass", _("sound")
        FAIL = "fail", _("not sound")
        NOT_POSSIBLE = "not-possible", _("not possible")

    inspection = models.ForeignKey(
        Inspection, models.CASCADE, verbose_name=_("inspection"), related_name="results"
    )
    step = models.ForeignKey(ProtocolStep, models.PROTECT, verbose_name=_("step"), related_name="+")
    outcome = models.CharField(_("outcome"), max_length=12, choices=Outcome)
    condition = models.CharField(_("condition"), max_length=40, blank=True)
    error_code = models.ForeignKey(
        ErrorCode, models.PROTECT, verbose_name=_("error code"), related_name="+", null=True
    )
    value = FixedPointField(_("value"), places=4, null=True)
    reason = models.CharField(_("why not possible"), max_length=200, blank=True)
    note = models.CharField(_("note"), max_length=400, blank=True)
    photo = models.ForeignKey(
        StoredFile, models.PROTECT, verbose_name=_("photo"), related_name="+", null=True
    )
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    objects = StepResultQuerySet.as_manager()

    class Meta:
        ordering = ["step__position"]
        verbose_name = _("result of a step")
        verbose_name_plural = _("results of steps")
        constraints = [
            models.UniqueConstraint(fields=["inspection", "step"], name="one_result_a_step"),
            models.CheckConstraint(
                condition=~Q(outcome="not-possible") | ~Q(reason=""),
                name="not_possible_has_a_reason",
            ),
            models.CheckConstraint(
                condition=Q(error_code=None) | Q(condition=CODE_SHOWN),
                name="error_code_where_one_is_shown",
            ),
        ]

    def __str__(self):
        return f"{self.step_id}: {self.outcome}"

    @property
    def label(self) -> str:
        """What was found: the code with its meaning, else the step's words; needs both."""
        return str(self.error_code or self.step.label_of(self.condition))

    @property
    def is_possible(self) -> bool:
        return self.outcome != self.Outcome.NOT_POSSIBLE

    @property
    def ending(self) -> dict | None:
        """The condition found, where it ends the inspection; needs ``step``."""
        return self.step.ending_of(self.condition)
