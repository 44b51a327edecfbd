from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.answers.querysets import AnswerQuerySet
from units.catalogue.models import MachineModel


class FreshnessRule(models.Model):
    """For how many days an answer that came this way is fresh; empty means for ever.

    A published end of support never ages, whatever stands here.
    """

    class Channel(models.TextChoices):
        PHONE = "phone", _("by telephone")
        MAIL = "mail", _("in writing")
        NOTICE = "notice", _("by a published notice")

    channel = models.CharField(_("how it came"), max_length=10, choices=Channel, primary_key=True)
    days = models.PositiveSmallIntegerField(_("days it stays fresh"), null=True, blank=True)
    back_order_days = models.PositiveSmallIntegerField(
        _("days a back-order without a date stays fresh"), null=True, blank=True
    )

    class Meta:
        verbose_name = _("freshness rule")
        verbose_name_plural = _("freshness rules")

    def __str__(self):
        return f"{self.channel}: {self.days}"


class Answer(models.Model):
    """What a maker said of a model on one day. Answers only grow; a wrong one is withdrawn."""

    class Status(models.TextChoices):
        SUPPORTED = "supported", _("supported")
        LIMITED = "limited", _("limited")
        BACK_ORDERED = "back-ordered", _("back-ordered")
        ENDED = "ended", _("ended")
        NO_ANSWER = "no-answer", _("no answer")

    class Warranty(models.TextChoices):
        UNKNOWN = "unknown", _("not asked")
        YES = "yes", _("passes to a second owner")
        NO = "no", _("does not pass")

    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="answers"
    )
    status = models.CharField(_("parts are"), max_length=12, choices=Status)
    until = models.DateField(_("back-ordered until"), null=True, blank=True)
    given_on = models.DateField(_("given on"))
    effective_on = models.DateField(
        _("holds from"),
        null=True,
        blank=True,
        help_text=_("Only when a published notice takes effect later than it was given."),
    )
    given_by = models.CharField(_("who said so"), max_length=120)
    channel = models.CharField(_("how"), max_length=10, choices=FreshnessRule.Channel)
    warranty = models.CharField(
        _("maker's warranty"), max_length=8, choices=Warranty, default=Warranty.UNKNOWN
    )
    note = models.CharField(_("note"), max_length=400, blank=True)
    recorded_at = models.DateTimeField(_("written down at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    objects = AnswerQuerySet.as_manager()

    class Meta:
        ordering = ["-given_on", "-id"]
        verbose_name = _("answer")
        verbose_name_plural = _("answers")
        constraints = [
            models.CheckConstraint(
                condition=Q(until=None) | Q(status="back-ordered"), name="until_only_back_ordered"
            )
        ]

    def __str__(self):
        return f"{self.model_id}: {self.status} ({self.given_on})"

    def get_absolute_url(self):
        """An answer is read on the page of its model."""
        return reverse("model", args=[self.model_id])


class Withdrawal(models.Model):
    """That an answer was wrong, and why: it counts no longer from ``recorded_at``."""

    answer = models.OneToOneField(
        Answer, models.PROTECT, verbose_name=_("answer"), related_name="withdrawal"
    )
    reason = models.CharField(_("reason"), max_length=400)
    recorded_at = models.DateTimeField(_("written down at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    class Meta:
        verbose_name = _("withdrawal")
        verbose_name_plural = _("withdrawals")

    def __str__(self):
        return f"{self.answer_id}: {self.reason}"
