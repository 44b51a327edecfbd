from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from parts.stock.models import StockMove
from units.rows.fields import UnitCostField


class Supplier(models.Model):
    name = models.CharField(_("supplier"), max_length=120, unique=True)
    phone = models.CharField(_("telephone"), max_length=20, blank=True)

    class Meta:
        ordering = ["name"]
        verbose_name = _("supplier")
        verbose_name_plural = _("suppliers")

    def __str__(self):
        return self.name


class SupplierPrice(models.Model):
    """What a supplier asked for a part on a day, and how long it takes to come."""

    supplier = models.ForeignKey(
        Supplier, models.PROTECT, verbose_name=_("supplier"), related_name="prices"
    )
    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="prices")
    cost = UnitCostField(_("cost for one"))
    lead_days = models.PositiveSmallIntegerField(_("days to come"), null=True, blank=True)
    given_on = models.DateField(_("given on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-given_on", "-id"]
        verbose_name = _("supplier's price")
        verbose_name_plural = _("suppliers' prices")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(cost__gte=0), name="supplier_cost_not_negative"
            )
        ]

    def __str__(self):
        return f"{self.part_id}: {self.cost}"


class Receipt(models.Model):
    """A delivery of parts from a supplier."""

    number = models.CharField(_("receipt"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    supplier = models.ForeignKey(
        Supplier, models.PROTECT, verbose_name=_("supplier"), related_name="receipts"
    )
    reference = models.CharField(_("supplier's paper"), max_length=60, blank=True)
    received_on = models.DateField(_("received on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-received_on", "-id"]
        verbose_name = _("receipt")
        verbose_name_plural = _("receipts")

    def __str__(self):
        return self.number

    def get_absolute_url(self):
        return reverse("receipt", args=[self.number])


class ReceiptLine(models.Model):
    receipt = models.ForeignKey(
        Receipt, models.PROTECT, verbose_name=_("receipt"), related_name="lines"
    )
    move = models.OneToOneField(
        StockMove, models.PROTECT, verbose_name=_("stock move"), related_name="receipt_line"
    )
    unit_cost = UnitCostField(_("cost for one"))

    class Meta:
        verbose_name = _("line of a receipt")
        verbose_name_plural = _("lines of receipts")

    def __str__(self):
        return f"{self.receipt_id}: {self.move_id}"
