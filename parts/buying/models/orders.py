from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.buying.models.suppliers import Supplier
from parts.buying.querysets import OrderLineQuerySet
from parts.fits.models import Part
from units.rows.fields import QuantityField, UnitCostField


class PurchaseOrder(models.Model):
    """What was ordered from a supplier on a day. How far it has come is told by its lines."""

    number = models.CharField(_("order"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    supplier = models.ForeignKey(
        Supplier, models.PROTECT, verbose_name=_("supplier"), related_name="orders"
    )
    ordered_on = models.DateField(_("ordered on"))
    note = models.CharField(_("note for the supplier"), max_length=400, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-ordered_on", "-id"]
        verbose_name = _("order")
        verbose_name_plural = _("orders")

    def __str__(self):
        return self.number

    def get_absolute_url(self):
        return reverse("order", args=[self.number])


class PurchaseOrderLine(models.Model):
    """So many of a part, at the cost that was agreed; ``demand`` is the document that waits."""

    order = models.ForeignKey(
        PurchaseOrder, models.PROTECT, verbose_name=_("order"), related_name="lines"
    )
    part = models.ForeignKey(
        Part, models.PROTECT, verbose_name=_("part"), related_name="order_lines"
    )
    quantity = QuantityField(_("quantity"))
    unit_cost = UnitCostField(_("cost for one"))
    demand = models.CharField(_("waits for it"), max_length=40, blank=True)
    expected_on = models.DateField(_("expected on"), null=True, blank=True)

    objects = OrderLineQuerySet.as_manager()

    class Meta:
        ordering = ["order", "id"]
        verbose_name = _("line of an order")
        verbose_name_plural = _("lines of orders")
        constraints = [
            models.CheckConstraint(
                condition=Q(quantity__gt=0, unit_cost__gte=0), name="order_line_of_something"
            )
        ]

    def __str__(self):
        return f"{self.order_id}: {self.quantity} × {self.part_id}"


class Cancellation(models.Model):
    """That what was still to come of a line will not come any more."""

    line = models.ForeignKey(
        PurchaseOrderLine, models.PROTECT, verbose_name=_("line"), related_name="cancellations"
    )
    quantity = QuantityField(_("quantity"))
    reason = models.CharField(_("reason"), max_length=200)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        verbose_name = _("cancellation")
        verbose_name_plural = _("cancellations")
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gt=0), name="cancelled_something")
        ]

    def __str__(self):
        return f"{self.line_id}: {self.quantity}"
