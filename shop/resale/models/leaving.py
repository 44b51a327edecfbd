"""Machines that left: sold, given away or scrapped."""

from django.conf import settings
from django.db import models
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from shop.resale.models.conditions import Disclosure
from shop.till.models import Invoice
from units.rows.fields import MoneyField


class Sale(models.Model):
    """A machine of ours sold: at retail, as it is, for parts or to the trade, as its stay says.

    ``cost`` is frozen for the books. ``outlet`` is the buyer's, as he told us.
    """

    stay = models.OneToOneField(Stay, models.PROTECT, verbose_name=_("stay"), related_name="sale")
    invoice = models.OneToOneField(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="machine_sale"
    )
    disclosure = models.ForeignKey(
        Disclosure,
        models.PROTECT,
        verbose_name=_("terms and disclosures"),
        related_name="sales",
        null=True,
        blank=True,
    )
    outlet = models.CharField(_("buyer's outlet"), max_length=60, blank=True)
    price_reason = models.CharField(_("why below the least price"), max_length=200, blank=True)
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


class Disposal(models.Model):
    """A machine of ours given away or scrapped; its stay says which. ``cost`` is frozen."""

    stay = models.OneToOneField(
        Stay, models.PROTECT, verbose_name=_("stay"), related_name="disposal"
    )
    number = models.CharField(_("number"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    taker = models.CharField(_("who took it"), max_length=120)
    reason = models.CharField(_("why"), max_length=200)
    disclosure = models.ForeignKey(
        Disclosure,
        models.PROTECT,
        verbose_name=_("terms and disclosures"),
        related_name="disposals",
        null=True,
        blank=True,
    )
    cost = MoneyField(_("what it cost us"))
    gone_on = models.DateField(_("gone on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-gone_on", "-id"]
        verbose_name = _("machine given away or scrapped")
        verbose_name_plural = _("machines given away or scrapped")

    def __str__(self):
        return self.number
