from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from parts.stock.querysets import CostLayerQuerySet
from units.rows.fields import MoneyField, QuantityField, UnitCostField


class Bin(models.Model):
    """A place on the shelf. It holds quantity only; cost lies in the layers."""

    name = models.CharField(_("bin"), max_length=40, unique=True)

    class Meta:
        ordering = ["name"]
        verbose_name = _("bin")
        verbose_name_plural = _("bins")

    def __str__(self):
        return self.name


class Shelf(models.Model):
    """How many of a part lie in a bin now: the sum of the moves, kept so that it can be locked."""

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="shelves")
    bin = models.ForeignKey(Bin, models.PROTECT, verbose_name=_("bin"), related_name="shelves")
    on_hand = QuantityField(_("on hand"), default=0)

    class Meta:
        ordering = ["part", "bin"]
        verbose_name = _("shelf")
        verbose_name_plural = _("shelves")
        constraints = [
            models.UniqueConstraint(fields=["part", "bin"], name="one_shelf_a_part_and_bin"),
            models.CheckConstraint(condition=Q(on_hand__gte=0), name="shelf_never_below_zero"),
        ]

    def __str__(self):
        return f"{self.part_id} @ {self.bin_id}: {self.on_hand}"


class StockMove(models.Model):
    """One line of the stock ledger: quantity in (positive) or out, with its frozen cost."""

    class Reason(models.TextChoices):
        RECEIVED = "received", _("received")
        USED = "used", _("used on a job")
        SOLD = "sold", _("sold over the counter")
        RETURNED = "returned", _("put back")
        COUNTED = "counted", _("counted")
        SCRAPPED = "scrapped", _("scrapped")

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
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["moved_on", "id"]
        verbose_name = _("stock move")
        verbose_name_plural = _("stock moves")
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
    """What one incoming move cost, and what of it is left, first in first out."""

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
