from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from shop.till.models import Invoice
from units.rows.fields import MoneyField


class Grading(models.Model):
    """That a machine was cleaned and how it looks. The newest one counts."""

    class Grade(models.TextChoices):
        A = "A", _("A: hardly a mark")
        B = "B", _("B: used, tidy")
        C = "C", _("C: works, shows it")

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="gradings")
    grade = models.CharField(_("looks"), max_length=1, choices=Grade)
    cleaned = models.BooleanField(_("cleaned"))
    safety_key_present = models.BooleanField(_("safety key is with it"), default=False)
    graded_at = models.DateTimeField(_("graded at"))
    graded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("graded by"), related_name="+"
    )

    class Meta:
        ordering = ["-graded_at", "-id"]
        verbose_name = _("grading")
        verbose_name_plural = _("gradings")

    def __str__(self):
        return f"{self.stay_id}: {self.grade}"


class AskingPrice(models.Model):
    """A price and the least we take. Below the floor it needs a reason. The newest one counts."""

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="prices")
    price = MoneyField(_("asking price, before tax"))
    floor = MoneyField(_("least price"))
    reason = models.CharField(_("why below the least price"), max_length=200, blank=True)
    set_at = models.DateTimeField(_("set at"))
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("set by"), related_name="+"
    )

    class Meta:
        ordering = ["-set_at", "-id"]
        verbose_name = _("asking price")
        verbose_name_plural = _("asking prices")
        constraints = [
            models.CheckConstraint(
                condition=Q(price__gte=models.F("floor")) | ~Q(reason=""),
                name="price_below_floor_has_a_reason",
            ),
            models.CheckConstraint(condition=Q(price__gt=0, floor__gte=0), name="prices_positive"),
        ]

    def __str__(self):
        return f"{self.stay_id}: {self.price}"


class Sale(models.Model):
    """A machine of ours sold at retail. ``cost`` is frozen for the books."""

    stay = models.OneToOneField(Stay, models.PROTECT, verbose_name=_("stay"), related_name="sale")
    invoice = models.OneToOneField(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="machine_sale"
    )
    cost = MoneyField(_("what it cost us"))
    sold_on = models.DateField(_("sold on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("sold by"), related_name="+"
    )

    class Meta:
        ordering = ["-sold_on", "-id"]
        verbose_name = _("sale of a machine")
        verbose_name_plural = _("sales of machines")

    def __str__(self):
        return f"{self.stay_id}: {self.invoice_id}"
