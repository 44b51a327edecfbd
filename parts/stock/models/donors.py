from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from parts.stock.models.ledger import StockMove
from parts.stock.models.shelves import Bin
from parts.stock.querysets import DonorPieceQuerySet
from units.catalogue.models import Component, Unit
from units.rows.fields import MoneyField


class Donor(models.Model):
    """A machine that is taken apart for its pieces, at what it cost us."""

    unit = models.OneToOneField(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="donor"
    )
    document = models.CharField(_("document"), max_length=40)
    cost = MoneyField(_("cost"))
    key = models.UUIDField(_("once-only key"), null=True, unique=True, editable=False)
    stripped_on = models.DateField(_("taken apart on"), db_index=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-stripped_on", "-id"]
        verbose_name = _("donor")
        verbose_name_plural = _("donors")
        constraints = [
            models.CheckConstraint(condition=Q(cost__gte=0), name="donor_cost_never_below_zero")
        ]

    def __str__(self):
        return str(self.unit)

    def get_absolute_url(self):
        return reverse("donor", args=[self.pk])


class DonorComponent(models.Model):
    """A piece of a donor: how good it is, what it carries of the donor's cost, where it is.

    A held piece without a bin is still on the machine; one with a bin lies there, but has no part
    number yet and so no place in the ledger. The move of a piece that was taken is in the ledger.
    """

    class Grade(models.TextChoices):
        NEW = "new", _("as new")
        GOOD = "good", _("good")
        WORN = "worn", _("worn")
        SPENT = "spent", _("spent")

    class State(models.TextChoices):
        HELD = "held", _("kept")
        TAKEN = "taken", _("on the shelf")
        SCRAPPED = "scrapped", _("scrapped")

    donor = models.ForeignKey(Donor, models.PROTECT, verbose_name=_("donor"), related_name="pieces")
    component = models.ForeignKey(
        Component, models.PROTECT, verbose_name=_("component"), related_name="+"
    )
    grade = models.CharField(_("grade"), max_length=10, choices=Grade)
    state = models.CharField(_("state"), max_length=10, choices=State)
    part = models.ForeignKey(
        Part, models.PROTECT, verbose_name=_("part"), related_name="+", null=True, blank=True
    )
    bin = models.ForeignKey(
        Bin, models.PROTECT, verbose_name=_("bin"), related_name="+", null=True, blank=True
    )
    cost = MoneyField(_("share of the cost"))
    move = models.OneToOneField(
        StockMove,
        models.PROTECT,
        verbose_name=_("move"),
        related_name="donor_piece",
        null=True,
        blank=True,
    )
    settled_on = models.DateField(_("taken or scrapped on"), null=True, blank=True)
    settled_at = models.DateTimeField(_("that recorded at"), null=True, blank=True)
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("taken or scrapped by"),
        related_name="+",
        null=True,
        blank=True,
    )
    note = models.CharField(_("note"), max_length=200, blank=True)

    objects = DonorPieceQuerySet.as_manager()

    class Meta:
        ordering = ["donor", "id"]
        verbose_name = _("piece of a donor")
        verbose_name_plural = _("pieces of donors")
        indexes = [
            models.Index(fields=["component"], condition=Q(state="held"), name="pieces_held")
        ]
        constraints = [
            models.UniqueConstraint(fields=["donor", "component"], name="donor_component_once"),
            models.CheckConstraint(condition=Q(cost__gte=0), name="piece_cost_never_below_zero"),
            models.CheckConstraint(
                condition=Q(state="taken", move__isnull=False, part__isnull=False)
                | Q(~Q(state="taken"), move__isnull=True),
                name="piece_taken_with_its_move",
            ),
            models.CheckConstraint(
                condition=Q(state="held", settled_on__isnull=True)
                | Q(~Q(state="held"), settled_on__isnull=False),
                name="piece_settled_on_a_day",
            ),
        ]

    def __str__(self):
        return f"{self.component_id}: {self.state}"
