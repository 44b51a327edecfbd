from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer
from units.catalogue.models import MachineModel
from units.rows.fields import MoneyField


class Offer(models.Model):
    """A list of machines that a seller offers, or one machine: a lot of one."""

    seller = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("seller"), related_name="offers"
    )
    title = models.CharField(_("title"), max_length=120)
    asked = MoneyField(_("asked price"), null=True, blank=True)
    offered_on = models.DateField(_("offered on"))
    remove_by = models.DateField(_("to be removed by"), null=True, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-offered_on", "-id"]
        verbose_name = _("offer")
        verbose_name_plural = _("offers")

    def __str__(self):
        return self.title


class OfferLine(models.Model):
    """One line of a list as the seller wrote it, and the model we take it for."""

    offer = models.ForeignKey(Offer, models.CASCADE, verbose_name=_("offer"), related_name="lines")
    position = models.PositiveSmallIntegerField(_("position"))
    text = models.CharField(_("as written"), max_length=200)
    model = models.ForeignKey(
        MachineModel,
        models.PROTECT,
        verbose_name=_("model"),
        related_name="offer_lines",
        null=True,
        blank=True,
    )
    count = models.PositiveSmallIntegerField(_("count"), default=1)
    serial = models.CharField(_("serial number"), max_length=60, blank=True)
    hours = models.PositiveIntegerField(_("hours"), null=True, blank=True)
    note = models.CharField(_("note"), max_length=200, blank=True)

    class Meta:
        ordering = ["offer", "position"]
        verbose_name = _("line of an offer")
        verbose_name_plural = _("lines of offers")
        constraints = [
            models.UniqueConstraint(fields=["offer", "position"], name="offer_position_once"),
            models.CheckConstraint(condition=Q(count__gt=0), name="offer_count_positive"),
        ]

    def __str__(self):
        return self.text
