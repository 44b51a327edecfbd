import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer
from shop.till.models.invoices import Invoice
from shop.till.querysets import PaymentQuerySet
from units.rows.fields import MoneyField


class Payment(models.Model):
    """Money taken for an invoice. A mistake is reversed by a payment of the opposite sign.

    ``Method`` is how a person pays; a deposit that was taken before counts for an invoice too.
    """

    class Method(models.TextChoices):
        CASH = "cash", _("cash")
        CARD = "card", _("card")
        TRANSFER = "transfer", _("bank transfer")
        CHECK = "check", _("check")

    DEPOSIT = "deposit"
    SETTLED_BY = [*Method.choices, (DEPOSIT, _("deposit taken before"))]

    number = models.CharField(_("receipt of payment"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    invoice = models.ForeignKey(
        Invoice, models.PROTECT, verbose_name=_("invoice"), related_name="payments"
    )
    method = models.CharField(_("method"), max_length=10, choices=SETTLED_BY)
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


class Deposit(models.Model):
    """Money held for a customer before anything is billed: we owe it until it ends.

    ``document`` names what it was given for.
    """

    number = models.CharField(_("deposit"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    customer = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("customer"), related_name="deposits"
    )
    document = models.CharField(_("for document"), max_length=40, blank=True)
    method = models.CharField(_("method"), max_length=10, choices=Payment.Method)
    amount = MoneyField(_("amount"))
    taken_on = models.DateField(_("taken on"), db_index=True)
    reference = models.CharField(_("reference"), max_length=60, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken by"), related_name="+"
    )

    class Meta:
        ordering = ["-taken_on", "-id"]
        verbose_name = _("deposit")
        verbose_name_plural = _("deposits")
        constraints = [
            models.CheckConstraint(condition=Q(amount__gt=0), name="deposit_has_an_amount")
        ]

    def __str__(self):
        return self.number


class DepositEnd(models.Model):
    """What became of all of a deposit: taken off an invoice, given back, or kept for a reason."""

    class How(models.TextChoices):
        APPLIED = "applied", _("taken off the invoice")
        RETURNED = "returned", _("given back")
        KEPT = "kept", _("kept")

    deposit = models.OneToOneField(
        Deposit, models.PROTECT, verbose_name=_("deposit"), related_name="end"
    )
    how = models.CharField(_("how"), max_length=10, choices=How)
    invoice = models.ForeignKey(
        Invoice,
        models.PROTECT,
        verbose_name=_("invoice"),
        related_name="deposits_applied",
        null=True,
        blank=True,
    )
    reason = models.CharField(_("why"), max_length=200, blank=True)
    ended_on = models.DateField(_("ended on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["ended_on", "id"]
        verbose_name = _("end of a deposit")
        verbose_name_plural = _("ends of deposits")
        constraints = [
            models.CheckConstraint(
                condition=Q(how="applied", invoice__isnull=False)
                | (Q(invoice=None) & ~Q(how="applied")),
                name="an_applied_deposit_names_its_invoice",
            ),
            models.CheckConstraint(
                condition=~Q(how="kept") | ~Q(reason=""), name="a_kept_deposit_has_a_reason"
            ),
        ]

    def __str__(self):
        return f"{self.deposit_id}: {self.how}"
