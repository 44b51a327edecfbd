from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from shop.lots.models.lines import LotLine, LotMachine
from shop.lots.models.lots import Lot
from units.rows.fields import MoneyField


class LotShare(models.Model):
    """What one machine, or one line of goods, of a bought lot cost: its share of price and haul.

    ``value`` is what it was taken to be worth when the price was split. Rows only grow.
    """

    lot = models.ForeignKey(Lot, models.PROTECT, verbose_name=_("lot"), related_name="shares")
    machine = models.OneToOneField(
        LotMachine,
        models.PROTECT,
        verbose_name=_("machine of the lot"),
        related_name="share",
        null=True,
        blank=True,
    )
    goods = models.OneToOneField(
        LotLine,
        models.PROTECT,
        verbose_name=_("line of goods"),
        related_name="share",
        null=True,
        blank=True,
    )
    stay = models.OneToOneField(
        Stay,
        models.PROTECT,
        verbose_name=_("stay"),
        related_name="lot_share",
        null=True,
        blank=True,
    )
    value = MoneyField(_("value when it was split"))
    share = MoneyField(_("share of price and haul"))

    class Meta:
        ordering = ["lot", "id"]
        verbose_name = _("share of a lot's price")
        verbose_name_plural = _("shares of lots' prices")
        constraints = [
            models.CheckConstraint(
                condition=Q(machine__isnull=False, goods=None, stay__isnull=False)
                | Q(machine=None, goods__isnull=False, stay=None),
                name="lot_share_of_a_machine_or_goods",
            ),
            models.CheckConstraint(
                condition=Q(value__gte=0, share__gte=0), name="lot_share_not_below_nothing"
            ),
        ]

    def __str__(self):
        return f"{self.lot_id}: {self.share}"
