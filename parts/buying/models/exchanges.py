from datetime import date, timedelta

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer
from parts.buying.models.suppliers import Supplier
from units.rows.fields import MoneyField


class ExchangeOffer(models.Model):
    """What a workshop asks to rebuild or exchange a component or a part.

    The answer says for what, at which cost, since when and on whose word; a withdrawn answer
    withdraws the offer.
    """

    answer = models.OneToOneField(
        Answer, models.PROTECT, verbose_name=_("answer"), related_name="exchange_offer"
    )
    supplier = models.ForeignKey(
        Supplier, models.PROTECT, verbose_name=_("workshop"), related_name="exchange_offers"
    )
    core_charge = MoneyField(_("charge for the old one"), default=0)
    core_days = models.PositiveSmallIntegerField(
        _("days to send the old one back"), null=True, blank=True
    )

    class Meta:
        ordering = ["-id"]
        verbose_name = _("offer to exchange")
        verbose_name_plural = _("offers to exchange")
        constraints = [
            models.CheckConstraint(condition=Q(core_charge__gte=0), name="core_charge_not_negative")
        ]

    def __str__(self):
        return f"{self.supplier_id}: {self.answer_id}"


class Exchange(models.Model):
    """One component or part that is exchanged: the other comes, the old one goes back in time."""

    number = models.CharField(_("exchange"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    offer = models.ForeignKey(
        ExchangeOffer, models.PROTECT, verbose_name=_("offer"), related_name="exchanges"
    )
    document = models.CharField(_("for"), max_length=40, blank=True)
    core_charge = MoneyField(_("charge for the old one"))
    core_days = models.PositiveSmallIntegerField(
        _("days to send the old one back"), null=True, blank=True
    )
    ordered_on = models.DateField(_("ordered on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-ordered_on", "-id"]
        verbose_name = _("exchange")
        verbose_name_plural = _("exchanges")

    def __str__(self):
        return self.number

    def due_on(self, came_on: date | None) -> date | None:
        """The last day for the old one; ``None`` before the other came, or without a term."""
        if came_on is None or self.core_days is None:
            return None
        return came_on + timedelta(days=self.core_days)


class ExchangeStep(models.Model):
    """That the other one came, or that the old one left: in either order, each once."""

    class Step(models.TextChoices):
        CAME = "came", _("the other one came")
        SENT = "sent", _("the old one was sent")

    exchange = models.ForeignKey(
        Exchange, models.PROTECT, verbose_name=_("exchange"), related_name="steps"
    )
    step = models.CharField(_("what happened"), max_length=4, choices=Step)
    done_on = models.DateField(_("done on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["done_on", "id"]
        verbose_name = _("step of an exchange")
        verbose_name_plural = _("steps of exchanges")
        constraints = [
            models.UniqueConstraint(fields=["exchange", "step"], name="exchange_step_once")
        ]

    def __str__(self):
        return f"{self.exchange_id}: {self.step}"
