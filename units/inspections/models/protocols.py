"""What is looked at, and in which order."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Component, Kind
from units.inspections.querysets import ProtocolStepQuerySet
from units.rows.fields import FixedPointField


class Protocol(models.Model):
    """One version of an ordered list of steps. A version never changes once loaded.

    ``run_in`` holds the minutes of a final test's run-in (``domain.scope.run_in_minutes``).
    """

    class Occasion(models.TextChoices):
        PURCHASE = "purchase", _("before buying")
        CLUB = "club", _("at a club")
        ARRIVAL = "arrival", _("on arrival")
        REPAIR = "repair", _("before repair")
        FINAL = "final", _("final test")
        AFTER_MOVE = "after-move", _("after a move")

    slug = models.SlugField(_("key"), max_length=60)
    version = models.PositiveSmallIntegerField(_("version"))
    title = models.CharField(_("title"), max_length=120)
    kind = models.ForeignKey(Kind, models.PROTECT, verbose_name=_("kind"), related_name="protocols")
    occasion = models.CharField(_("occasion"), max_length=12, choices=Occasion)
    digest = models.CharField(_("SHA-256 of its content"), max_length=64)
    run_in = models.JSONField(_("run-in"), default=dict, blank=True)

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

    ``conditions`` is a list of ``{"condition", "label", "passes", "component", "ends", "why"}``:
    what a person may find, the component only where it is another than the step's, ``ends`` where
    finding it ends the inspection; ``cautions`` and ``tools`` are keys of those tables. ``always``,
    ``after`` and ``places`` say when a final test that follows the work asks the step. Steps of
    different protocols that share a ``key`` ask the same question: the later answer stands.
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
    tools = models.JSONField(_("tools"), default=list)
    seconds = models.PositiveSmallIntegerField(_("seconds"), default=60)
    photo_wanted = models.BooleanField(_("wants a photo"), default=False)
    photo = models.CharField(_("what the photo shows"), max_length=120, blank=True)
    always = models.BooleanField(_("always in a final test"), default=False)
    after = models.JSONField(_("in a final test after work on"), default=list)
    places = models.JSONField(_("in a final test at"), default=list)

    objects = ProtocolStepQuerySet.as_manager()

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

    @property
    def judged(self) -> set[str]:
        """Slugs of the components of which an answer may speak."""
        return {row.get("component", self.component_id) for row in self.conditions} | {
            self.component_id
        }

    @property
    def only_tells(self) -> bool:
        """Whether no answer can be a fault: it asks how the machine is used, or reads a number."""
        if self.answer == self.Answer.MEASURE:
            return self.low is None and self.high is None
        return all(row["passes"] for row in self.conditions)

    def ending_of(self, condition: str) -> dict | None:
        """The row of a condition that ends the inspection; None of any other."""
        return next(
            (row for row in self.conditions if row["condition"] == condition and row.get("ends")),
            None,
        )
