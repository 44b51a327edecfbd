from django.conf import settings
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.buying.models.orders import PurchaseOrderLine
from parts.buying.models.suppliers import Supplier
from parts.stock.models import StockMove
from units.rows.fields import UnitCostField


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
    order_line = models.ForeignKey(
        PurchaseOrderLine,
        models.PROTECT,
        verbose_name=_("line of the order"),
        related_name="receipt_lines",
        null=True,
        blank=True,
        help_text=_("Empty for what came without an order."),
    )

    class Meta:
        verbose_name = _("line of a receipt")
        verbose_name_plural = _("lines of receipts")

    def __str__(self):
        return f"{self.receipt_id}: {self.move_id}"


class SupplierReturn(models.Model):
    """Pieces of a delivery that went back to the supplier, and why."""

    class Reason(models.TextChoices):
        WRONG = "wrong", _("not the part that the number stands for")
        FAULTY = "faulty", _("damaged or faulty")
        SPARE = "spare", _("not needed")

    number = models.CharField(_("return"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    receipt_line = models.ForeignKey(
        ReceiptLine, models.PROTECT, verbose_name=_("line of the delivery"), related_name="returns"
    )
    move = models.OneToOneField(
        StockMove, models.PROTECT, verbose_name=_("stock move"), related_name="supplier_return"
    )
    reason = models.CharField(_("reason"), max_length=8, choices=Reason)
    note = models.CharField(_("what is wrong with it"), max_length=200, blank=True)
    returned_on = models.DateField(_("sent back on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-returned_on", "-id"]
        verbose_name = _("return to a supplier")
        verbose_name_plural = _("returns to suppliers")

    def __str__(self):
        return self.number

    @property
    def quantity(self):
        """How many went back; ``move`` takes them off the shelf and stands below nought."""
        return -self.move.quantity
