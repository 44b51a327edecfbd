"""How a machine looks, what we ask for it, and for whom it is held."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Stay
from shop.people.models import Customer
from shop.till.models import Deposit
from units.rows.fields import MoneyField


class Grading(models.Model):
    """That a machine was cleaned and how it looks. The newest one counts."""

    class Grade(models.TextChoices):
        A = "A", _("A: hardly a mark")
        B = "B", _("B: used, tidy")
        C = "C", _("C: works, shows it")

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="gradings")
    grade = models.CharField(_("looks"), max_length=1, choices=Grade)
    cleaned = models.BooleanField(_("cleaned"))
    safety_key_present = models.BooleanField(_("safety key is with it"), default=False)
    graded_at = models.DateTimeField(_("graded at"))
    graded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("graded by"), related_name="+"
    )

    class Meta:
        ordering = ["-graded_at", "-id"]
        verbose_name = _("grading")
        verbose_name_plural = _("gradings")

    def __str__(self):
        return f"{self.stay_id}: {self.grade}"


class AskingPrice(models.Model):
    """A price and the least we take. Below the floor it needs a reason. The newest one counts."""

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="prices")
    price = MoneyField(_("asking price, before tax"))
    floor = MoneyField(_("least price"))
    reason = models.CharField(_("why below the least price"), max_length=200, blank=True)
    set_at = models.DateTimeField(_("set at"))
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("set by"), related_name="+"
    )

    class Meta:
        ordering = ["-set_at", "-id"]
        verbose_name = _("asking price")
        verbose_name_plural = _("asking prices")
        constraints = [
            models.CheckConstraint(
                condition=Q(price__gte=models.F("floor")) | ~Q(reason=""),
                name="price_below_floor_has_a_reason",
            ),
            models.CheckConstraint(condition=Q(price__gt=0, floor__gte=0), name="prices_positive"),
        ]

    def __str__(self):
        return f"{self.stay_id}: {self.price}"


class Reservation(models.Model):
    """A machine is held for one customer against a deposit, until he buys it or it is let go."""

    stay = models.ForeignKey(
        Stay, models.PROTECT, verbose_name=_("stay"), related_name="reservations"
    )
    customer = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("for"), related_name="reservations"
    )
    deposit = models.OneToOneField(
        Deposit, models.PROTECT, verbose_name=_("deposit"), related_name="reservation"
    )
    until_on = models.DateField(_("until"))
    reserved_at = models.DateTimeField(_("reserved at"))
    reserved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("reserved by"), related_name="+"
    )
    over_at = models.DateTimeField(_("over at"), null=True)
    over_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("ended by"),
        related_name="+",
        null=True,
    )

    class Meta:
        ordering = ["-reserved_at", "-id"]
        verbose_name = _("reservation")
        verbose_name_plural = _("reservations")
        constraints = [
            models.UniqueConstraint(
                fields=["stay"], condition=Q(over_at=None), name="one_reservation_a_machine"
            ),
            models.CheckConstraint(
                condition=Q(over_at=None, over_by=None)
                | Q(over_at__isnull=False, over_by__isnull=False),
                name="reservation_ended_by_someone",
            ),
        ]

    def __str__(self):
        return f"{self.stay_id}: {self.customer_id}"
