from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models.machines import Spot
from shop.floor.querysets import GoodsQuerySet
from shop.people.models import Customer
from units.rows.fields import MoneyField, QuantityField


class Measure(models.TextChoices):
    """By what goods without serials are counted."""

    PIECE = "piece", _("piece")
    SET = "set", _("set")
    LB = "lb", _("lb")
    KG = "kg", _("kg")
    SQFT = "sqft", _("square foot")
    SQM = "sqm", _("square metre")


class Goods(models.Model):
    """Goods without serials that we bought at once: plates, benches, flooring.

    They cost what they cost by themselves: what leaves takes its share of this row's ``cost``, in
    which ``haul`` is what fetching them cost. The row stays as it came but for its place.
    """

    number = models.CharField(_("number"), max_length=20, unique=True)
    key = models.CharField(_("once-only key"), max_length=60, unique=True)
    name = models.CharField(_("goods"), max_length=200)
    measure = models.CharField(_("measure"), max_length=6, choices=Measure)
    quantity = QuantityField(_("quantity"))
    cost = MoneyField(_("cost"))
    haul = MoneyField(_("of it for the haul"), default=0)
    document = models.CharField(_("bought under"), max_length=40)
    came_from = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("seller"), related_name="goods_sold_to_us"
    )
    came_on = models.DateField(_("came on"), db_index=True)
    spot = models.ForeignKey(
        Spot,
        models.PROTECT,
        verbose_name=_("stands at"),
        related_name="goods",
        null=True,
        blank=True,
    )
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    objects = GoodsQuerySet.as_manager()

    class Meta:
        ordering = ["-came_on", "-id"]
        verbose_name = _("goods")
        verbose_name_plural = _("goods")
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gt=0), name="goods_have_a_quantity"),
            models.CheckConstraint(
                condition=Q(haul__gte=0, cost__gte=models.F("haul")), name="goods_cost_holds_haul"
            ),
        ]

    def __str__(self):
        return f"{self.number} {self.name}"

    @property
    def price(self) -> Decimal:
        """What the seller gets for them."""
        return self.cost - self.haul


class GoodsOut(models.Model):
    """That much of some goods left, at the cost frozen here. The ledger only grows."""

    class Reason(models.TextChoices):
        SOLD = "sold", _("sold")
        LOST = "lost", _("lost or scrapped")

    goods = models.ForeignKey(Goods, models.PROTECT, verbose_name=_("goods"), related_name="outs")
    key = models.UUIDField(_("once-only key"), unique=True)
    reason = models.CharField(_("reason"), max_length=10, choices=Reason)
    quantity = QuantityField(_("quantity"))
    cost = MoneyField(_("what it cost us"))
    document = models.CharField(_("document"), max_length=40)
    note = models.CharField(_("why"), max_length=200, blank=True)
    left_on = models.DateField(_("left on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["left_on", "id"]
        verbose_name = _("goods that left")
        verbose_name_plural = _("goods that left")
        constraints = [
            models.CheckConstraint(
                condition=Q(quantity__gt=0, cost__gte=0), name="goods_out_of_something"
            ),
            models.CheckConstraint(
                condition=Q(reason="sold") | Q(reason="lost", note__gt=""),
                name="lost_goods_say_why",
            ),
        ]

    def __str__(self):
        return f"{self.goods_id}: {self.quantity} {self.reason}"
