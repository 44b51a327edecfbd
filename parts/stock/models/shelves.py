from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from units.rows.fields import QuantityField


class Bin(models.Model):
    """A place on the shelf. It holds quantity only; cost lies in the layers."""

    name = models.CharField(_("bin"), max_length=40, unique=True)

    class Meta:
        ordering = ["name"]
        verbose_name = _("bin")
        verbose_name_plural = _("bins")

    def __str__(self):
        return self.name


class Shelf(models.Model):
    """How many of a part lie in a bin now: the sum of the moves, kept so that it can be locked."""

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="shelves")
    bin = models.ForeignKey(Bin, models.PROTECT, verbose_name=_("bin"), related_name="shelves")
    on_hand = QuantityField(_("on hand"), default=0)

    class Meta:
        ordering = ["part", "bin"]
        verbose_name = _("shelf")
        verbose_name_plural = _("shelves")
        indexes = [
            models.Index(fields=["part"], condition=Q(on_hand__gt=0), name="shelves_that_hold")
        ]
        constraints = [
            models.UniqueConstraint(fields=["part", "bin"], name="one_shelf_a_part_and_bin"),
            models.CheckConstraint(condition=Q(on_hand__gte=0), name="shelf_never_below_zero"),
        ]

    def __str__(self):
        return f"{self.part_id} @ {self.bin_id}: {self.on_hand}"
