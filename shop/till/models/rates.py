from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.till.domain.pricing import MarkUpStep
from shop.till.domain.tax import Rate
from shop.till.querysets import DatedQuerySet, MarkUpQuerySet, TaxRateQuerySet
from units.rows.fields import FixedPointField, MoneyField, UnitCostField


class LineClass(models.TextChoices):
    """What a line of an estimate or invoice is, for tax, price rules and the sales register."""

    PART = "part", _("part")
    LABOUR = "labour", _("labour")
    MACHINE = "machine", _("machine")
    TRIP = "trip", _("trip")
    FEE = "fee", _("fee")
    DISPOSAL = "disposal", _("disposal")
    CORE = "core", _("core charge")


# Sold from the floor, on no job.
GOODS = "goods"
BILLED = [*LineClass.choices, (GOODS, _("goods without serials"))]


class TaxRate(models.Model):
    """One jurisdiction's sales tax on one class of line, from a day on."""

    jurisdiction = models.CharField(_("jurisdiction"), max_length=60)
    line_class = models.CharField(_("on"), max_length=8, choices=BILLED)
    percent = FixedPointField(_("per cent"), places=4)
    position = models.PositiveSmallIntegerField(_("position"), default=0)
    from_on = models.DateField(_("from"))
    until_on = models.DateField(_("through"), null=True, blank=True)

    objects = TaxRateQuerySet.as_manager()

    class Meta:
        ordering = ["position", "jurisdiction", "line_class", "from_on"]
        verbose_name = _("tax rate")
        verbose_name_plural = _("tax rates")
        constraints = [
            models.UniqueConstraint(
                fields=["jurisdiction", "line_class", "from_on"], name="one_tax_rate_a_day"
            ),
            models.CheckConstraint(condition=Q(percent__gte=0), name="tax_rate_not_negative"),
        ]

    def __str__(self):
        return f"{self.jurisdiction} {self.line_class} {self.percent}"

    @property
    def rate(self) -> Rate:
        return Rate(self.jurisdiction, self.line_class, self.percent)


class LabourRate(models.Model):
    """What an hour is sold for, and what it costs us, from a day on."""

    price_per_hour = MoneyField(_("price for an hour"))
    cost_per_hour = MoneyField(_("cost of an hour"))
    from_on = models.DateField(_("from"), unique=True)

    objects = DatedQuerySet.as_manager()

    class Meta:
        ordering = ["-from_on"]
        verbose_name = _("labour rate")
        verbose_name_plural = _("labour rates")
        constraints = [
            models.CheckConstraint(
                condition=models.Q(price_per_hour__gte=0, cost_per_hour__gte=0),
                name="an_hour_costs_no_less_than_nothing",
            )
        ]

    def __str__(self):
        return f"{self.from_on}: {self.price_per_hour}"


class MarkUp(models.Model):
    """Parts that cost at least ``cost_from`` sell at cost times ``factor``, from a day on."""

    cost_from = UnitCostField(_("cost from"))
    factor = FixedPointField(_("price is cost times"), places=4)
    from_on = models.DateField(_("from"))

    objects = MarkUpQuerySet.as_manager()

    class Meta:
        ordering = ["-from_on", "-cost_from"]
        verbose_name = _("mark-up")
        verbose_name_plural = _("mark-ups")
        constraints = [
            models.UniqueConstraint(fields=["cost_from", "from_on"], name="one_mark_up_a_step"),
            models.CheckConstraint(
                condition=models.Q(factor__gt=0, cost_from__gte=0), name="mark_up_makes_a_price"
            ),
        ]

    def __str__(self):
        return f"≥ {self.cost_from}: × {self.factor}"

    @property
    def step(self) -> MarkUpStep:
        return MarkUpStep(self.cost_from, self.factor)
