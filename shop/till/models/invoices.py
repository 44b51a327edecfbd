from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer
from shop.till.models.rates import BILLED
from shop.till.querysets import InvoiceQuerySet
from units.rows.fields import FixedPointField, MoneyField, QuantityField


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
    line_class = models.CharField(_("class"), max_length=8, choices=BILLED)
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
