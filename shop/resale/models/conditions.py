"""What is written down so that a machine may leave."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay


class HoldingRule(models.Model):
    """How many days a bought machine is held before it may go, from a day on, by local law."""

    days = models.PositiveSmallIntegerField(_("days that a bought machine is held"))
    from_on = models.DateField(_("from"), unique=True)
    set_at = models.DateTimeField(_("set at"))
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("set by"), related_name="+"
    )

    class Meta:
        ordering = ["-from_on"]
        verbose_name = _("holding period")
        verbose_name_plural = _("holding periods")

    def __str__(self):
        return f"{self.from_on}: {self.days}"


class Waiver(models.Model):
    """The owner lets a machine leave by an exit although a condition is not met, and says why.

    ``names`` is what the condition spoke of then; what is added later is not waived.
    """

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="waivers")
    exit = models.CharField(_("exit"), max_length=12)
    condition = models.CharField(_("condition"), max_length=24)
    names = models.JSONField(_("speaks of"), default=list)
    reason = models.CharField(_("why"), max_length=200)
    waived_at = models.DateTimeField(_("waived at"))
    waived_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("waived by"), related_name="+"
    )

    class Meta:
        ordering = ["waived_at", "id"]
        verbose_name = _("waiver")
        verbose_name_plural = _("waivers")
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="a_waiver_has_a_reason")
        ]

    def __str__(self):
        return f"{self.stay_id}: {self.exit} {self.condition}"


class Disclosure(models.Model):
    """Terms and faults in writing that go with a machine by one exit. The newest one counts.

    ``faults`` are the sentences of what was not in order, ``terms`` those of the exit, both as
    they were printed; ``support`` is what was known then of its parts.
    """

    stay = models.ForeignKey(
        Stay, models.PROTECT, verbose_name=_("stay"), related_name="disclosures"
    )
    exit = models.CharField(_("exit"), max_length=12)
    key = models.UUIDField(_("once-only key"), unique=True)
    faults = models.JSONField(_("faults in writing"), default=list)
    terms = models.JSONField(_("terms"), default=list)
    support = models.CharField(_("whether parts can be had"), max_length=20)
    support_words = models.CharField(_("said of its parts"), max_length=400)
    note = models.CharField(_("what else the buyer is told"), max_length=400, blank=True)
    attached_at = models.DateTimeField(_("attached at"))
    attached_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("attached by"), related_name="+"
    )

    class Meta:
        ordering = ["-attached_at", "-id"]
        verbose_name = _("terms and disclosures")
        verbose_name_plural = _("terms and disclosures")

    def __str__(self):
        return f"{self.stay_id}: {self.exit}"
