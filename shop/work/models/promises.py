"""What the shop promises: a day, a warranty, and what it asks for a machine left standing."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.work.models.jobs import WorkOrder
from units.rows.fields import MoneyField


class Promise(models.Model):
    """A day that was promised for a job. Only grows; the newest counts and stands on the job."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="promises"
    )
    promised_on = models.DateField(_("promised for"))
    why = models.CharField(_("why it changed"), max_length=200, blank=True)
    made_at = models.DateTimeField(_("made at"))
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("made by"), related_name="+"
    )

    class Meta:
        ordering = ["made_at", "id"]
        verbose_name = _("promise")
        verbose_name_plural = _("promises")

    def __str__(self):
        return f"{self.job_id}: {self.promised_on}"


class WarrantyTerm(models.Model):
    """For how many days we stand for a kind of work, from a day on; the shop edits them."""

    class Work(models.TextChoices):
        REPLACED = "replaced", _("a part replaced")
        SERVICED = "serviced", _("cleaned, adjusted or lubricated")

    work = models.CharField(_("work"), max_length=10, choices=Work)
    parts_days = models.PositiveSmallIntegerField(_("days for the part"))
    labour_days = models.PositiveSmallIntegerField(_("days for the labour"))
    from_on = models.DateField(_("from"))

    class Meta:
        ordering = ["work", "-from_on"]
        verbose_name = _("warranty term")
        verbose_name_plural = _("warranty terms")
        constraints = [
            models.UniqueConstraint(fields=["work", "from_on"], name="one_warranty_term_a_day"),
            models.CheckConstraint(
                condition=Q(work="replaced") | Q(parts_days=0), name="service_brings_no_part"
            ),
        ]

    def __str__(self):
        return f"{self.work}: {self.parts_days} / {self.labour_days}"


class StorageRule(models.Model):
    """What a machine left standing costs a day, so many days after a notice; from a day on."""

    days_free = models.PositiveSmallIntegerField(_("days after the notice"))
    per_day = MoneyField(_("a day, before tax"))
    from_on = models.DateField(_("from"), unique=True)

    class Meta:
        ordering = ["-from_on"]
        verbose_name = _("storage rule")
        verbose_name_plural = _("storage rules")
        constraints = [
            models.CheckConstraint(condition=Q(per_day__gte=0), name="storage_not_negative")
        ]

    def __str__(self):
        return f"{self.from_on}: {self.per_day}"
