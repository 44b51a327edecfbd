import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer
from shop.till.domain.pricing import MarkUpStep
from shop.till.domain.tax import Rate
from shop.till.querysets import (
    DatedQuerySet,
    InvoiceQuerySet,
    MarkUpQuerySet,
    PaymentQuerySet,
    TaxRateQuerySet,
)
from units.rows.fields import FixedPointField, MoneyField, QuantityField, UnitCostField


class LineClass(models.TextChoices):
    """What a line of an estimate or invoice is, for tax, price rules and the sales register."""

    PART = "part", _("part")
    LABOUR = "labour", _("labour")
    MACHINE = "machine", _("machine")
    TRIP = "trip", _("trip")
    FEE = "fee", _("fee")


class TaxRate(models.Model):
    """One jurisdiction's sales tax on one class of line, from a day on."""

    jurisdiction = models.CharField(_("jurisdiction"), max_length=60)
    line_class = models.CharField(_("on"), max_length=8, choices=LineClass)
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
            models.UniqueConstraint(fields=["cost_from", "from_on"], name="one_mark_up_a_step")
        ]

    def __str__(self):
        return f"≥ {self.cost_from}: × {self.factor}"

    @property
    def step(self) -> MarkUpStep:
        return MarkUpStep(self.cost_from, self.factor)


class Invoice(models.Model):
    """A sealed bill: lines in, taxed once by the rates of its day, never changed after."""

    number = models.CharField(_("invoice"), max_length=20, unique=True)
    key = models.CharField(_("once-only key"), max_length=60, unique=True)
    customer = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("payer"), related_name="invoices"
    )
    document = models.CharField(_("for document"), max_length=40, blank=True)
    issued_on = models.DateField(_("issued on"), db_index=True)
    net = MoneyField(_("net"))
    tax = MoneyField(_("tax"))
    total = MoneyField(_("total"))
    tax_exempt_reason = models.CharField(_("why exempt from tax"), max_length=120, blank=True)
    issued_at = models.DateTimeField(_("issued at"))
    issued_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("issued by"), related_name="+"
    )

    objects = InvoiceQuerySet.as_manager()

    class Meta:
        ordering = ["-issued_on", "-id"]
        verbose_name = _("invoice")
        verbose_name_plural = _("invoices")
        constraints = [
            models.CheckConstraint(
                condition=Q(total=models.F("net") + models.F("tax")), name="invoice_adds_up"
            )
        ]

    def __str__(self):
        return self.number


class InvoiceLine(models.Model):
    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="lines"
    )
    position = models.PositiveSmallIntegerField(_("position"))
    line_class = models.CharField(_("class"), max_length=8, choices=LineClass)
    description = models.CharField(_("description"), max_length=200)
    quantity = QuantityField(_("quantity"))
    unit_price = MoneyField(_("price for one"))
    net = MoneyField(_("net"))

    class Meta:
        ordering = ["invoice", "position"]
        verbose_name = _("line of an invoice")
        verbose_name_plural = _("lines of invoices")
        constraints = [
            models.UniqueConstraint(fields=["invoice", "position"], name="invoice_position_once")
        ]

    def __str__(self):
        return self.description


class InvoiceTax(models.Model):
    """The tax of one jurisdiction at one rate on an invoice."""

    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="taxes"
    )
    jurisdiction = models.CharField(_("jurisdiction"), max_length=60)
    percent = FixedPointField(_("per cent"), places=4)
    taxable = MoneyField(_("taxed amount"))
    tax = MoneyField(_("tax"))

    class Meta:
        ordering = ["invoice", "jurisdiction", "percent"]
        verbose_name = _("tax of an invoice")
        verbose_name_plural = _("taxes of invoices")
        constraints = [
            models.UniqueConstraint(
                fields=["invoice", "jurisdiction", "percent"], name="one_tax_a_rate_and_invoice"
            )
        ]

    def __str__(self):
        return f"{self.invoice_id}: {self.jurisdiction} {self.tax}"


class Payment(models.Model):
    """Money taken for an invoice. A mistake is reversed by a payment of the opposite sign."""

    class Method(models.TextChoices):
        CASH = "cash", _("cash")
        CARD = "card", _("card")
        TRANSFER = "transfer", _("bank transfer")
        CHECK = "check", _("check")

    number = models.CharField(_("receipt of payment"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="payments"
    )
    method = models.CharField(_("method"), max_length=10, choices=Method)
    amount = MoneyField(_("amount"))
    paid_on = models.DateField(_("paid on"), db_index=True)
    reference = models.CharField(_("reference"), max_length=60, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken by"), related_name="+"
    )

    objects = PaymentQuerySet.as_manager()

    class Meta:
        ordering = ["-paid_on", "-id"]
        verbose_name = _("payment")
        verbose_name_plural = _("payments")
        constraints = [models.CheckConstraint(condition=~Q(amount=0), name="payment_has_an_amount")]

    def __str__(self):
        return self.number

    @property
    def is_reversal(self) -> bool:
        return self.amount < 0

    @property
    def reversal_key(self) -> uuid.UUID:
        """The key of the one payment that may undo this one."""
        return uuid.uuid5(self.key, "reversal")
