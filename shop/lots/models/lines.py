from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Measure
from shop.lots.models.lots import Lot
from shop.lots.models.sources import SourceRow
from units.catalogue.models import Kind, MachineModel, Maker
from units.rows.fields import FixedPointField, MoneyField, QuantityField


class Goods(models.TextChoices):
    """Goods without serials; what each is worth is in ``fixtures/reference/lists.toml``."""

    PLATES = "plates", _("weight plates")
    DUMBBELLS = "dumbbells", _("dumbbells")
    KETTLEBELLS = "kettlebells", _("kettlebells")
    BARS = "bars", _("bars")
    BENCHES = "benches", _("benches")
    RACKS = "racks", _("racks")
    FLOORING = "flooring", _("flooring")
    OTHERS = "others", _("other goods")


class LotLine(models.Model):
    """One line of a lot: machines of one model, or goods. ``ref`` is the cell it was read from.

    ``candidates`` are the models that may be meant: ``[[id, percent], ...]``, best first.
    """

    class Sort(models.TextChoices):
        MACHINE = "machine", _("machines")
        GOODS = "goods", _("goods")

    class State(models.TextChoices):
        PROPOSED = "proposed", _("to confirm")
        CONFIRMED = "confirmed", _("confirmed")
        DROPPED = "dropped", _("left out")

    lot = models.ForeignKey(Lot, models.PROTECT, verbose_name=_("lot"), related_name="lines")
    position = models.PositiveSmallIntegerField(_("position"))
    row = models.OneToOneField(
        SourceRow,
        models.PROTECT,
        verbose_name=_("row of the list"),
        related_name="line",
        null=True,
        blank=True,
    )
    ref = models.CharField(_("cell"), max_length=12, blank=True)
    sort = models.CharField(_("machines or goods"), max_length=7, choices=Sort, default="machine")
    state = models.CharField(_("state"), max_length=9, choices=State, default=State.PROPOSED)
    sure = models.BooleanField(_("sure"), default=False)
    text = models.CharField(_("as written"), max_length=200)
    model = models.ForeignKey(
        MachineModel,
        models.PROTECT,
        verbose_name=_("model"),
        related_name="lot_lines",
        null=True,
        blank=True,
    )
    candidates = models.JSONField(_("models that may be meant"), default=list)
    maker = models.CharField(_("maker as typed"), max_length=80, blank=True)
    number = models.CharField(_("model number as typed"), max_length=60, blank=True)
    kind = models.ForeignKey(
        Kind, models.PROTECT, verbose_name=_("kind"), related_name="+", null=True, blank=True
    )
    count = models.PositiveSmallIntegerField(_("count"), default=1)
    serials = models.JSONField(_("serial numbers"), default=list)
    hours = models.PositiveIntegerField(_("hours"), null=True, blank=True)
    year = models.PositiveSmallIntegerField(_("year"), null=True, blank=True)
    note = models.CharField(_("condition in the seller's words"), max_length=300, blank=True)
    goods = models.CharField(_("goods"), max_length=12, choices=Goods, blank=True)
    measure = models.CharField(_("measure"), max_length=6, choices=Measure, blank=True)
    quantity = FixedPointField(_("quantity"), places=3, null=True, blank=True)
    pieces = models.PositiveSmallIntegerField(_("pieces"), null=True, blank=True)
    asked = MoneyField(_("asked for one"), null=True, blank=True)
    settled_at = models.DateTimeField(_("settled at"), null=True)
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("settled by"),
        related_name="+",
        null=True,
    )

    class Meta:
        ordering = ["lot", "position"]
        verbose_name = _("line of a lot")
        verbose_name_plural = _("lines of lots")
        constraints = [
            models.UniqueConstraint(fields=["lot", "position"], name="lot_position_once"),
            models.CheckConstraint(condition=Q(count__gt=0), name="lot_line_count_positive"),
            models.CheckConstraint(
                condition=Q(sort="machine", goods="", quantity=None)
                | Q(sort="goods", goods__gt="", measure__gt="", quantity__gt=0, model=None),
                name="lot_line_machine_or_goods",
            ),
            models.CheckConstraint(
                condition=Q(state="proposed", settled_at=None)
                | Q(
                    state__in=["confirmed", "dropped"],
                    settled_at__isnull=False,
                    settled_by__isnull=False,
                ),
                name="lot_line_settled_by_someone",
            ),
        ]

    def __str__(self):
        return self.text

    @property
    def named(self) -> str:
        """What we take it for, or as it was typed."""
        if self.sort == self.Sort.GOODS:
            return self.get_goods_display()
        return str(self.model.current) if self.model else f"{self.maker} {self.number}".strip()

    @property
    def heap_key(self) -> str:
        """The key under which its goods come onto the shelf."""
        return f"lot line {self.pk}"


class LotMachine(models.Model):
    """One machine of a confirmed line: what a walk past it found, and how it was loaded."""

    class Ran(models.TextChoices):
        UNKNOWN = "unknown", _("not tried")
        RUNS = "runs", _("runs")
        DEAD = "dead", _("does not run")
        APART = "apart", _("taken apart")

    class Fate(models.TextChoices):
        LOADED = "loaded", _("loaded")
        MISSING = "missing", _("missing")
        SWAPPED = "swapped", _("swapped for another")
        STRIPPED = "stripped", _("loaded, parts stripped")
        LEFT = "left", _("left behind")

    line = models.ForeignKey(
        LotLine, models.PROTECT, verbose_name=_("line"), related_name="machines"
    )
    place = models.PositiveSmallIntegerField(_("place"))
    serial = models.CharField(_("serial number"), max_length=60, blank=True)
    hours = models.PositiveIntegerField(_("hours"), null=True, blank=True)
    ran = models.CharField(_("does it run?"), max_length=7, choices=Ran, default=Ran.UNKNOWN)
    why_not = models.CharField(_("why it was not run"), max_length=200, blank=True)
    by_odds = models.BooleanField(_("valued by the odds all the same"), default=False)
    reading = models.ForeignKey(
        "plates.PlateReading",
        models.PROTECT,
        verbose_name=_("photo of the plate"),
        related_name="+",
        null=True,
        blank=True,
    )
    unit = models.ForeignKey(
        "catalogue.Unit",
        models.PROTECT,
        verbose_name=_("machine"),
        related_name="+",
        null=True,
        blank=True,
    )
    looked_at = models.DateTimeField(_("looked at"), null=True)
    looked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("looked at by"),
        related_name="+",
        null=True,
    )
    fate = models.CharField(_("at load-out"), max_length=8, choices=Fate, blank=True)
    seen_serial = models.CharField(_("serial number scanned"), max_length=60, blank=True)
    adjusted = MoneyField(_("taken off the price"), default=0)
    volts = models.PositiveSmallIntegerField(_("supply, volts"), null=True, blank=True)
    plug = models.CharField(_("plug"), max_length=20, blank=True)
    console_locked = models.BooleanField(
        _("console locked or bound to an account"), null=True, blank=True
    )
    pin_missing = models.BooleanField(_("a pin is missing"), null=True, blank=True)
    load_note = models.CharField(_("what was seen at load-out"), max_length=200, blank=True)
    scanned_at = models.DateTimeField(_("scanned at"), null=True)
    scanned_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("scanned by"),
        related_name="+",
        null=True,
    )

    class Meta:
        ordering = ["line__position", "place"]
        verbose_name = _("machine of a lot")
        verbose_name_plural = _("machines of lots")
        constraints = [
            models.UniqueConstraint(fields=["line", "place"], name="lot_machine_place_once"),
            models.CheckConstraint(
                condition=Q(fate="", scanned_at=None) | Q(fate__gt="", scanned_at__isnull=False),
                name="lot_machine_scanned_has_fate",
            ),
            models.CheckConstraint(
                condition=Q(ran__in=["unknown", "runs"]) | Q(why_not__gt=""),
                name="lot_machine_not_run_says_why",
            ),
            models.CheckConstraint(
                condition=Q(fate__in=["swapped", "stripped", "missing", "left"]) | Q(adjusted=0),
                name="lot_machine_adjusted_for_cause",
            ),
        ]

    def __str__(self):
        return f"{self.line.named} {self.serial}".strip()


class GoodsFound(models.Model):
    """How much of a line of goods stood there at load-out, and what comes off the price for it.

    ``listed`` is what the line says, fixed since the price was agreed; both in the line's measure.
    """

    line = models.OneToOneField(
        LotLine, models.PROTECT, verbose_name=_("line of goods"), related_name="at_truck"
    )
    listed = QuantityField(_("quantity listed"))
    found = QuantityField(_("quantity found"))
    adjusted = MoneyField(_("taken off the price"), default=0)
    counted_at = models.DateTimeField(_("counted at"))
    counted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("counted by"), related_name="+"
    )

    class Meta:
        ordering = ["line__position"]
        verbose_name = _("goods found at load-out")
        verbose_name_plural = _("goods found at load-out")
        constraints = [
            models.CheckConstraint(
                condition=Q(found__gte=0, adjusted__gte=0), name="lot_goods_not_below_nothing"
            ),
            models.CheckConstraint(
                condition=Q(found__lt=models.F("listed")) | Q(adjusted=0),
                name="lot_goods_adjusted_where_short",
            ),
        ]

    def __str__(self):
        return f"{self.line}: {self.found}"

    @property
    def state(self) -> str:
        """``there``, ``more``, ``short`` or ``missing``."""
        if not self.found:
            return "missing"
        if self.found == self.listed:
            return "there"
        return "short" if self.found < self.listed else "more"


class MakerAlias(models.Model):
    """What sellers call a maker, learnt when a person said which model was meant."""

    key = models.CharField(_("name for matching"), max_length=80, unique=True)
    name = models.CharField(_("as sellers write it"), max_length=80)
    maker = models.ForeignKey(Maker, models.CASCADE, verbose_name=_("maker"), related_name="+")

    class Meta:
        ordering = ["name"]
        verbose_name = _("other name of a maker")
        verbose_name_plural = _("other names of makers")

    def __str__(self):
        return self.name
