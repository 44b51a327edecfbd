from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.fits.querysets import FitQuerySet, PartQuerySet
from units.catalogue.models import Component, MachineModel, Maker
from units.rows.fields import QuantityField


class Part(models.Model):
    """Something one can buy, by the number that its maker gave it."""

    maker = models.ForeignKey(
        Maker,
        models.PROTECT,
        verbose_name=_("maker"),
        related_name="parts",
        null=True,
        blank=True,
        help_text=_("Empty for a part that no machine's maker numbers, such as a bearing."),
    )
    number = models.CharField(_("part number"), max_length=60)
    key = models.CharField(_("number for matching"), max_length=60)
    name = models.CharField(_("name"), max_length=120)
    component = models.ForeignKey(
        Component, models.PROTECT, verbose_name=_("component"), related_name="parts"
    )

    objects = PartQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        verbose_name = _("part")
        verbose_name_plural = _("parts")
        constraints = [
            models.UniqueConstraint(fields=["maker", "key"], name="part_number_once_per_maker"),
            models.UniqueConstraint(
                fields=["key"], condition=Q(maker=None), name="part_number_once_without_maker"
            ),
        ]

    def __str__(self):
        return f"{self.number} {self.name}"

    def get_absolute_url(self):
        return reverse("part", args=[self.pk])


class Fit(models.Model):
    """That a part fits a component of a model, how many of it, and how we know."""

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="fits")
    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="fits"
    )
    quantity = QuantityField(_("quantity"))
    evidence = models.CharField(_("how we know"), max_length=200)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    objects = FitQuerySet.as_manager()

    class Meta:
        verbose_name = _("fit")
        verbose_name_plural = _("fits")
        constraints = [
            models.UniqueConstraint(fields=["part", "model"], name="one_fit_a_part_and_model"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="fit_quantity_positive"),
        ]

    def __str__(self):
        return f"{self.part_id} → {self.model_id}"
