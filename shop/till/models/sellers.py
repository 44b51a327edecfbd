from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer
from units.rows.fields import MoneyField


class SellerPayment(models.Model):
    """Money paid for what we bought; what a seller pays back is a row with a negative amount.

    ``document`` is the purchase that it was paid for.
    """

    class Method(models.TextChoices):
        CASH = "cash", _("cash")
        TRANSFER = "transfer", _("bank transfer")
        CHECK = "check", _("our check")

    number = models.CharField(_("payment to a seller"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    seller = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("seller"), related_name="paid_by_us"
    )
    document = models.CharField(_("for purchase"), max_length=40, db_index=True)
    method = models.CharField(_("method"), max_length=10, choices=Method)
    amount = MoneyField(_("amount"))
    paid_on = models.DateField(_("paid on"), db_index=True)
    reference = models.CharField(_("reference"), max_length=60, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["paid_on", "id"]
        verbose_name = _("payment to a seller")
        verbose_name_plural = _("payments to sellers")
        constraints = [
            models.CheckConstraint(condition=~Q(amount=0), name="seller_payment_has_an_amount"),
            models.CheckConstraint(
                condition=Q(document__gt=""), name="seller_payment_names_its_purchase"
            ),
        ]

    def __str__(self):
        return self.number

    @property
    def came_back(self) -> bool:
        return self.amount < 0


class Holdback(models.Model):
    """Part of a price that is kept back from the seller until a question is settled."""

    number = models.CharField(_("held back under"), max_length=20, unique=True)
    key = models.UUIDField(_("once-only key"), unique=True)
    seller = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("seller"), related_name="held_back"
    )
    document = models.CharField(_("for purchase"), max_length=40, db_index=True)
    amount = MoneyField(_("amount"))
    reason = models.CharField(_("until what is settled"), max_length=200)
    held_on = models.DateField(_("held back on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["held_on", "id"]
        verbose_name = _("money held back")
        verbose_name_plural = _("money held back")
        constraints = [
            models.CheckConstraint(condition=Q(amount__gt=0), name="holdback_has_an_amount"),
            models.CheckConstraint(
                condition=Q(document__gt="", reason__gt=""), name="holdback_says_for_what"
            ),
        ]

    def __str__(self):
        return self.number


class HoldbackEnd(models.Model):
    """What became of money held back, or of a part of it.

    It went to the seller, or it made up for what he owed us of the price, or it was kept for
    good. What was paid out is a payment of its own.
    """

    class How(models.TextChoices):
        RELEASED = "released", _("paid to the seller")
        TAKEN_OFF = "taken-off", _("taken off what came short")
        KEPT = "kept", _("kept for good")

    holdback = models.ForeignKey(
        Holdback, models.PROTECT, verbose_name=_("money held back"), related_name="ends"
    )
    key = models.UUIDField(_("once-only key"), unique=True)
    how = models.CharField(_("how"), max_length=10, choices=How)
    amount = MoneyField(_("amount"))
    reason = models.CharField(_("why"), max_length=200)
    payment = models.OneToOneField(
        SellerPayment,
        models.PROTECT,
        verbose_name=_("payment"),
        related_name="released",
        null=True,
        blank=True,
    )
    ended_on = models.DateField(_("ended on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["ended_on", "id"]
        verbose_name = _("end of money held back")
        verbose_name_plural = _("ends of money held back")
        constraints = [
            models.CheckConstraint(
                condition=Q(how="released", payment__isnull=False)
                | Q(how__in=["taken-off", "kept"], payment=None),
                name="released_money_was_paid",
            ),
            models.CheckConstraint(
                condition=Q(amount__gt=0, reason__gt=""), name="holdback_end_says_how_much_and_why"
            ),
        ]

    def __str__(self):
        return f"{self.holdback_id}: {self.how} {self.amount}"
