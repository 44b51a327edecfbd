"""What is known to be wrong with a machine, and what put it right."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Component, Unit
from units.inspections.models.inspections import StepResult
from units.inspections.querysets import FindingQuerySet


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
        """What was found; needs step and code of its result, as standing ones have them."""
        return self.result.label

    @property
    def suspects(self) -> list[Component]:
        """What the code that was shown makes suspect."""
        code = self.result.error_code
        return list(code.components.all()) if code else []

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
