from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.querysets import StayQuerySet
from shop.people.models import Customer
from units.catalogue.models import Unit
from units.rows.fields import MoneyField


class Stay(models.Model):
    """A machine's time with us: whose it is, how it came, where it stands, how it left.

    ``owner`` empty means that the machine is our own stock. A customer's machine that is seen
    at his house has a stay too, with ``stands_at`` saying so: the spot of its newest move, or what
    was told when it came.
    """

    class Came(models.TextChoices):
        REPAIR = "repair", _("for repair")
        PURCHASE = "purchase", _("bought")

    class Left(models.TextChoices):
        RETURNED = "returned", _("handed back")
        OURS = "ours", _("became ours")
        SOLD = "sold", _("sold")
        AS_IS = "as-is", _("sold as it is")
        FOR_PARTS = "for-parts", _("sold for parts")
        WHOLESALE = "wholesale", _("sold to the trade")
        DONATED = "donated", _("donated")
        SCRAPPED = "scrapped", _("scrapped")
        STRIPPED = "stripped", _("taken apart")

    unit = models.ForeignKey(Unit, models.PROTECT, verbose_name=_("machine"), related_name="stays")
    owner = models.ForeignKey(
        Customer,
        models.PROTECT,
        verbose_name=_("owner"),
        related_name="stays",
        null=True,
        blank=True,
    )
    came = models.CharField(_("came"), max_length=10, choices=Came)
    came_on = models.DateField(_("came on"), db_index=True)
    came_from = models.ForeignKey(
        Customer,
        models.PROTECT,
        verbose_name=_("seller"),
        related_name="sold_to_us",
        null=True,
        blank=True,
    )
    came_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken in by"), related_name="+"
    )
    stands_at = models.CharField(_("stands at"), max_length=60, blank=True)
    made_in = models.PositiveSmallIntegerField(_("year it was made"), null=True, blank=True)
    left = models.CharField(_("left"), max_length=10, choices=Left, blank=True)
    left_on = models.DateField(_("left on"), null=True, db_index=True)
    left_document = models.CharField(_("left by document"), max_length=40, blank=True)
    left_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("handed out by"),
        related_name="+",
        null=True,
    )

    fetched = MoneyField(_("what it fetched, before tax"), null=True)

    objects = StayQuerySet.as_manager()

    class Meta:
        ordering = ["-came_on", "-id"]
        verbose_name = _("stay")
        verbose_name_plural = _("stays")
        constraints = [
            models.UniqueConstraint(
                fields=["unit"], condition=Q(left_on=None), name="one_open_stay_a_machine"
            ),
            models.CheckConstraint(
                condition=Q(left_on=None, left="", left_by=None)
                | (Q(left_on__isnull=False, left_by__isnull=False) & ~Q(left="")),
                name="stay_left_whole",
            ),
            models.CheckConstraint(
                condition=~Q(came="purchase") | Q(owner=None), name="bought_machines_are_ours"
            ),
        ]

    def __str__(self):
        return f"{self.unit_id}: {self.came_on}"


class MachineCost(models.Model):
    """What one of our own machines cost us: append-only, each row once for its document."""

    class Sort(models.TextChoices):
        PURCHASE = "purchase", _("purchase")
        HAUL = "haul", _("haul")
        PARTS = "parts", _("parts")
        LABOUR = "labour", _("labour")
        STRIPPED = "stripped", _("to its pieces")

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="costs")
    sort = models.CharField(_("sort"), max_length=10, choices=Sort)
    amount = MoneyField(_("amount"))
    spent_on = models.DateField(_("spent on"), db_index=True)
    document = models.CharField(_("document"), max_length=40)
    key = models.CharField(_("once-only key"), max_length=60, unique=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["spent_on", "id"]
        verbose_name = _("cost of a machine")
        verbose_name_plural = _("costs of machines")

    def __str__(self):
        return f"{self.stay_id}: {self.sort} {self.amount}"


class Spot(models.Model):
    """Where a machine can stand: a bay of the shop, a truck, or out at a customer's."""

    class Sort(models.TextChoices):
        BAY = "bay", _("bay in the shop")
        TRUCK = "truck", _("truck")
        OUT = "out", _("at the customer's")

    name = models.CharField(_("name"), max_length=60, unique=True)
    sort = models.CharField(_("what it is"), max_length=6, choices=Sort, default=Sort.BAY)
    in_use = models.BooleanField(_("in use"), default=True)

    class Meta:
        ordering = ["sort", "name"]
        verbose_name = _("spot")
        verbose_name_plural = _("spots")

    def __str__(self):
        return self.name


class Move(models.Model):
    """That a machine was put onto a spot. The ledger only grows; the newest row counts."""

    stay = models.ForeignKey(Stay, models.PROTECT, verbose_name=_("stay"), related_name="moves")
    spot = models.ForeignKey(Spot, models.PROTECT, verbose_name=_("spot"), related_name="moves")
    key = models.UUIDField(_("once-only key"), unique=True)
    moved_at = models.DateTimeField(_("moved at"))
    moved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("moved by"), related_name="+"
    )

    class Meta:
        ordering = ["-moved_at", "-id"]
        verbose_name = _("move of a machine")
        verbose_name_plural = _("moves of machines")

    def __str__(self):
        return f"{self.stay_id}: {self.spot_id}"
