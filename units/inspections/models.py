from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Component, Kind, Unit
from units.files.models import StoredFile
from units.inspections.querysets import FindingQuerySet, InspectionQuerySet, StepResultQuerySet
from units.rows.fields import FixedPointField


class Protocol(models.Model):
    """One version of an ordered list of steps. A version never changes once loaded."""

    class Occasion(models.TextChoices):
        ARRIVAL = "arrival", _("on arrival")
        FINAL = "final", _("final test")

    slug = models.SlugField(_("key"), max_length=60)
    version = models.PositiveSmallIntegerField(_("version"))
    title = models.CharField(_("title"), max_length=120)
    kind = models.ForeignKey(Kind, models.PROTECT, verbose_name=_("kind"), related_name="protocols")
    occasion = models.CharField(_("occasion"), max_length=12, choices=Occasion)
    digest = models.CharField(_("SHA-256 of its text"), max_length=64)

    class Meta:
        ordering = ["kind", "occasion", "-version"]
        verbose_name = _("protocol")
        verbose_name_plural = _("protocols")
        constraints = [
            models.UniqueConstraint(fields=["slug", "version"], name="protocol_version_once")
        ]

    def __str__(self):
        return f"{self.title} ({self.version})"


class ProtocolStep(models.Model):
    """One look, press or measurement.

    ``conditions`` is a list of ``{"condition", "label", "passes", "component"}``: what a person
    may find, the component only where it is another than the step's; ``cautions`` a list of keys
    of the caution table. Steps of different protocols that share a ``key`` ask the same question:
    the later answer stands.
    """

    class Answer(models.TextChoices):
        CONDITION = "condition", _("what is found")
        MEASURE = "measure", _("a measurement")

    class Power(models.TextChoices):
        OFF = "off", _("unplugged")
        ON = "on", _("powered, standing still")
        RUNNING = "running", _("running")
        ANY = "any", _("any")

    protocol = models.ForeignKey(
        Protocol, models.PROTECT, verbose_name=_("protocol"), related_name="steps"
    )
    position = models.PositiveSmallIntegerField(_("position"))
    key = models.SlugField(_("key"), max_length=60)
    title = models.CharField(_("step"), max_length=120)
    instruction = models.TextField(_("what to do"))
    component = models.ForeignKey(
        Component,
        models.PROTECT,
        verbose_name=_("component"),
        related_name="+",
        null=True,
        blank=True,
    )
    answer = models.CharField(_("answer"), max_length=10, choices=Answer)
    power = models.CharField(_("power"), max_length=8, choices=Power, default=Power.ANY)
    conditions = models.JSONField(_("conditions"), default=list)
    measure = models.CharField(_("measure"), max_length=20, blank=True)
    low = FixedPointField(_("least"), places=4, null=True, blank=True)
    high = FixedPointField(_("most"), places=4, null=True, blank=True)
    fails_as = models.CharField(_("condition when outside"), max_length=40, blank=True)
    holds = models.BooleanField(_("failing it holds the machine"), default=False)
    cautions = models.JSONField(_("cautions"), default=list)
    minutes = models.PositiveSmallIntegerField(_("minutes"), default=1)
    photo_wanted = models.BooleanField(_("wants a photo"), default=False)

    class Meta:
        ordering = ["protocol", "position"]
        verbose_name = _("step")
        verbose_name_plural = _("steps")
        constraints = [
            models.UniqueConstraint(fields=["protocol", "position"], name="step_position_once"),
            models.UniqueConstraint(fields=["protocol", "key"], name="step_key_once"),
        ]

    def __str__(self):
        return self.title

    def label_of(self, condition: str) -> str:
        """How a condition is written for people; its key's words where the step has no label."""
        for row in self.conditions:
            if row["condition"] == condition:
                return row["label"]
        return condition.replace("-", " ")

    def component_of(self, condition: str) -> str:
        """The slug of the component that a condition speaks of."""
        for row in self.conditions:
            if row["condition"] == condition:
                return row.get("component") or self.component_id
        return self.component_id


class Inspection(models.Model):
    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="inspections"
    )
    protocol = models.ForeignKey(
        Protocol, models.PROTECT, verbose_name=_("protocol"), related_name="inspections"
    )
    document = models.CharField(_("for document"), max_length=40, blank=True)
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
    """What came of one step. Open inspections may be corrected, finished ones may not."""

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
        ]

    def __str__(self):
        return f"{self.step_id}: {self.outcome}"

    @property
    def is_possible(self) -> bool:
        return self.outcome != self.Outcome.NOT_POSSIBLE


class Finding(models.Model):
    """A component's condition as a step showed it; written when its inspection is finished."""

    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="findings"
    )
    result = models.OneToOneField(
        StepResult, models.PROTECT, verbose_name=_("result"), related_name="finding"
    )
    component = models.ForeignKey(
        Component, models.PROTECT, verbose_name=_("component"), related_name="findings"
    )
    condition = models.CharField(_("condition"), max_length=40)
    passes = models.BooleanField(_("sound"))
    holds = models.BooleanField(_("holds the machine"), default=False)
    found_at = models.DateTimeField(_("found at"))

    objects = FindingQuerySet.as_manager()

    class Meta:
        ordering = ["found_at", "id"]
        verbose_name = _("finding")
        verbose_name_plural = _("findings")

    def __str__(self):
        return f"{self.component_id}: {self.condition}"

    @property
    def label(self) -> str:
        """What was found, in the step's words; needs ``result__step``, as standing ones have it."""
        return self.result.step.label_of(self.condition)

    @property
    def is_possible(self) -> bool:
        """Whether somebody could look; if not, what would have been found is not known."""
        return self.condition != StepResult.Outcome.NOT_POSSIBLE


class Clearance(models.Model):
    """That a finding no longer stands, by which document."""

    finding = models.OneToOneField(
        Finding, models.PROTECT, verbose_name=_("finding"), related_name="clearance"
    )
    document = models.CharField(_("cleared by document"), max_length=40)
    cleared_at = models.DateTimeField(_("cleared at"))
    cleared_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("cleared by"), related_name="+"
    )

    class Meta:
        verbose_name = _("clearance")
        verbose_name_plural = _("clearances")

    def __str__(self):
        return f"{self.finding_id}: {self.document}"
