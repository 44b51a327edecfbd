"""What goes with a machine when it leaves."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from shop.till.models import Invoice
from shop.work.models.jobs import WorkOrder
from units.rows.fields import MoneyField


class Notice(models.Model):
    """A written notice that goes with a machine leaving declined or unsafe."""

    job = models.OneToOneField(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="notice"
    )
    text = models.TextField(_("text"))
    written_at = models.DateTimeField(_("written at"))
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("written by"), related_name="+"
    )

    class Meta:
        verbose_name = _("notice")
        verbose_name_plural = _("notices")

    def __str__(self):
        return f"{self.job_id}"


class HandBack(models.Model):
    """A customer's machine leaving: who took it, what went along, on which invoice."""

    job = models.OneToOneField(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="hand_back"
    )
    taken_by = models.CharField(_("taken by"), max_length=120)
    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="+", null=True, blank=True
    )
    handed_at = models.DateTimeField(_("handed back at"))
    handed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("handed back by"), related_name="+"
    )

    class Meta:
        verbose_name = _("hand-back")
        verbose_name_plural = _("hand-backs")

    def __str__(self):
        return f"{self.job_id}: {self.taken_by}"


class RecallTold(models.Model):
    """That the customer was told of an open recall on his machine: who, how, when. Only grows."""

    class How(models.TextChoices):
        COUNTER = "counter", _("at the counter")
        PHONE = "phone", _("by telephone")
        MAIL = "mail", _("in writing")

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="recalls_told"
    )
    recall = models.CharField(_("recall"), max_length=120)
    told_to = models.CharField(_("who was told"), max_length=120)
    how = models.CharField(_("how"), max_length=10, choices=How)
    told_at = models.DateTimeField(_("told at"))
    told_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("told by"), related_name="+"
    )

    class Meta:
        ordering = ["told_at", "id"]
        verbose_name = _("recall told")
        verbose_name_plural = _("recalls told")
        constraints = [
            models.UniqueConstraint(fields=["job", "recall"], name="recall_told_once_a_job")
        ]

    def __str__(self):
        return f"{self.job_id}: {self.recall}"


class CollectionNotice(models.Model):
    """That a customer was asked to collect a finished machine. Only grows."""

    class How(models.TextChoices):
        MAIL = "mail", _("by letter")
        EMAIL = "email", _("by e-mail")
        PHONE = "phone", _("by telephone")

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="collection_notices"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    given_on = models.DateField(_("given on"))
    how = models.CharField(_("how"), max_length=10, choices=How)
    note = models.CharField(_("note"), max_length=400, blank=True)
    per_day = MoneyField(_("storage a day, as told"))
    from_on = models.DateField(_("storage is charged from"))
    written_at = models.DateTimeField(_("written at"))
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("written by"), related_name="+"
    )

    class Meta:
        ordering = ["given_on", "id"]
        verbose_name = _("notice to collect")
        verbose_name_plural = _("notices to collect")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(from_on__gte=models.F("given_on")),
                name="storage_starts_after_its_notice",
            )
        ]

    def __str__(self):
        return f"{self.job_id}: {self.given_on}"
