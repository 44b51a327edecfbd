from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from parts.stock.models.shelves import Bin
from parts.stock.querysets import CostLayerQuerySet
from units.rows.fields import MoneyField, QuantityField, UnitCostField


class StockMove(models.Model):
    """One line of the stock ledger: quantity in (positive) or out, with its frozen cost."""

    class Reason(models.TextChoices):
        RECEIVED = "received", _("received")
        USED = "used", _("used on a job")
        SOLD = "sold", _("sold over the counter")
        SENT_BACK = "sent-back", _("sent back to the supplier")
        RETURNED = "returned", _("put back")
        COUNTED = "counted", _("counted")
        SCRAPPED = "scrapped", _("scrapped")
        DONOR = "donor", _("taken off a donor")
        MOVED = "moved", _("moved to another bin")

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="moves")
    bin = models.ForeignKey(Bin, models.PROTECT, verbose_name=_("bin"), related_name="moves")
    reason = models.CharField(_("reason"), max_length=10, choices=Reason)
    quantity = QuantityField(_("quantity"))
    cost = MoneyField(_("cost"), help_text=_("Same sign as the quantity."))
    moved_on = models.DateField(_("moved on"), db_index=True)
    document = models.CharField(_("document"), max_length=40)
    reverses = models.OneToOneField(
        "self",
        models.PROTECT,
        verbose_name=_("puts back"),
        related_name="reversed_by",
        null=True,
        blank=True,
    )
    note = models.CharField(_("note"), max_length=200, blank=True)
    key = models.UUIDField(_("once-only key"), null=True, unique=True, editable=False)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["moved_on", "id"]
        verbose_name = _("stock move")
        verbose_name_plural = _("stock moves")
        indexes = [models.Index(fields=["part", "moved_on"], name="moves_of_a_part_by_day")]
        constraints = [
            models.CheckConstraint(condition=~Q(quantity=0), name="move_has_a_quantity"),
            models.CheckConstraint(
                condition=Q(quantity__gt=0, cost__gte=0) | Q(quantity__lt=0, cost__lte=0),
                name="move_cost_has_its_quantity_s_sign",
            ),
        ]

    def __str__(self):
        return f"{self.part_id}: {self.quantity} ({self.document})"


class CostLayer(models.Model):
    """What one incoming move cost, and what of it is left.

    First in, first out, each delivery keeps its own layer. By the moving average a delivery's
    layer takes in what the layers before it still hold, so that a part has one layer to take from.
    """

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="layers")
    move = models.OneToOneField(
        StockMove, models.PROTECT, verbose_name=_("move"), related_name="layer"
    )
    unit_cost = UnitCostField(_("cost for one"))
    quantity_left = QuantityField(_("quantity left"))
    cost_left = MoneyField(_("cost left"))

    objects = CostLayerQuerySet.as_manager()

    class Meta:
        ordering = ["move__moved_on", "move_id"]
        verbose_name = _("cost layer")
        verbose_name_plural = _("cost layers")
        indexes = [
            models.Index(
                fields=["part"], condition=Q(quantity_left__gt=0), name="layers_with_something_left"
            )
        ]
        constraints = [
            models.CheckConstraint(
                condition=Q(quantity_left__gte=0, cost_left__gte=0), name="layer_never_below_zero"
            )
        ]

    def __str__(self):
        return f"{self.part_id}: {self.quantity_left} × {self.unit_cost}"


class LayerUse(models.Model):
    """How much of a layer an outgoing move took (or, reversed, gave back), at what cost."""

    layer = models.ForeignKey(
        CostLayer, models.PROTECT, verbose_name=_("layer"), related_name="uses"
    )
    move = models.ForeignKey(
        StockMove, models.PROTECT, verbose_name=_("move"), related_name="layer_uses"
    )
    quantity = QuantityField(_("quantity"))
    cost = MoneyField(_("cost"))

    class Meta:
        verbose_name = _("use of a layer")
        verbose_name_plural = _("uses of layers")
        constraints = [
            models.UniqueConstraint(fields=["layer", "move"], name="one_use_a_layer_and_move")
        ]

    def __str__(self):
        return f"{self.layer_id}: {self.quantity}"
