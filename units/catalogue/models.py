from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from units.catalogue.querysets import MachineModelQuerySet, MakerQuerySet, UnitQuerySet
from units.files.models import StoredFile
from units.rows.fields import FixedPointField


class Kind(models.Model):
    """A kind of machine (treadmill, rower ...), loaded from the reference data."""

    slug = models.SlugField(_("key"), primary_key=True)
    name = models.CharField(_("kind"), max_length=60)
    position = models.PositiveSmallIntegerField(_("position"))
    has_safety_key = models.BooleanField(_("has a safety key"), default=False)
    has_cord = models.BooleanField(_("is plugged in"), default=False)

    class Meta:
        ordering = ["position"]
        verbose_name = _("kind")
        verbose_name_plural = _("kinds")

    def __str__(self):
        return self.name


class Component(models.Model):
    """A place in a kind of machine where something can be wrong; never a part one can buy."""

    slug = models.SlugField(_("key"), primary_key=True)
    name = models.CharField(_("component"), max_length=60)

    class Meta:
        ordering = ["name"]
        verbose_name = _("component")
        verbose_name_plural = _("components")

    def __str__(self):
        return self.name


class KindComponent(models.Model):
    """That machines of a kind have a component, and what it means to them."""

    kind = models.ForeignKey(
        Kind, models.CASCADE, verbose_name=_("kind"), related_name="components"
    )
    component = models.ForeignKey(
        Component, models.CASCADE, verbose_name=_("component"), related_name="kinds"
    )
    position = models.PositiveSmallIntegerField(_("position"))
    wears = models.BooleanField(_("wears"), default=False)
    critical = models.BooleanField(_("critical"), default=False)

    class Meta:
        ordering = ["kind", "position"]
        verbose_name = _("component of a kind")
        verbose_name_plural = _("components of kinds")
        constraints = [
            models.UniqueConstraint(fields=["kind", "component"], name="kind_component_once")
        ]

    def __str__(self):
        return f"{self.kind_id}: {self.component_id}"


class Maker(models.Model):
    name = models.CharField(_("maker"), max_length=80)
    key = models.CharField(_("name for matching"), max_length=80, unique=True)

    objects = MakerQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        verbose_name = _("maker")
        verbose_name_plural = _("makers")

    def __str__(self):
        return self.name


class MachineModel(models.Model):
    """A maker's model. One typed at the counter that nobody had met is unconfirmed until merged."""

    class Grade(models.TextChoices):
        RESIDENTIAL = "residential", _("residential")
        LIGHT = "light", _("light commercial")
        COMMERCIAL = "commercial", _("commercial")

    maker = models.ForeignKey(Maker, models.PROTECT, verbose_name=_("maker"), related_name="models")
    number = models.CharField(_("model number"), max_length=60)
    key = models.CharField(_("number for matching"), max_length=60)
    name = models.CharField(_("trade name"), max_length=80, blank=True)
    kind = models.ForeignKey(Kind, models.PROTECT, verbose_name=_("kind"), related_name="models")
    grade = models.CharField(_("grade"), max_length=12, choices=Grade, blank=True)
    volts = models.PositiveSmallIntegerField(_("supply, volts"), null=True, blank=True)
    hertz = models.PositiveSmallIntegerField(_("supply, hertz"), null=True, blank=True)
    amps = FixedPointField(_("supply, amps"), places=1, null=True, blank=True)
    plug = models.CharField(_("plug"), max_length=20, blank=True)
    mass = FixedPointField(_("mass, kg"), places=1, null=True, blank=True)
    confirmed = models.BooleanField(_("confirmed"), default=False)
    merged_into = models.ForeignKey(
        "self",
        models.PROTECT,
        verbose_name=_("merged into"),
        related_name="merged",
        null=True,
        blank=True,
    )

    objects = MachineModelQuerySet.as_manager()

    class Meta:
        ordering = ["maker__name", "number"]
        verbose_name = _("model")
        verbose_name_plural = _("models")
        constraints = [
            models.UniqueConstraint(fields=["maker", "key"], name="model_number_once_per_maker"),
            models.CheckConstraint(
                condition=~Q(merged_into=models.F("id")), name="model_not_merged_into_itself"
            ),
        ]

    def __str__(self):
        return f"{self.maker} {self.number}"

    def get_absolute_url(self):
        return reverse("model", args=[self.pk])

    @property
    def current(self):
        """Itself, or the model that it was merged into; select that one with it."""
        return self.merged_into or self


class Unit(models.Model):
    """One physical machine. Without a readable serial it is still a machine."""

    maker = models.ForeignKey(Maker, models.PROTECT, verbose_name=_("maker"), related_name="units")
    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="units"
    )
    serial = models.CharField(_("serial number"), max_length=60, blank=True)
    serial_key = models.CharField(
        _("serial for matching"), max_length=60, blank=True, db_index=True
    )
    first_seen_at = models.DateTimeField(_("first seen at"))
    first_seen_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("first seen by"), related_name="+"
    )

    objects = UnitQuerySet.as_manager()

    class Meta:
        ordering = ["-first_seen_at", "-id"]
        verbose_name = _("machine")
        verbose_name_plural = _("machines")
        constraints = [
            models.UniqueConstraint(
                fields=["maker", "serial_key"],
                condition=~Q(serial_key=""),
                name="serial_once_per_maker",
            )
        ]

    def __str__(self):
        return f"{self.model} {self.serial}".strip()

    def get_absolute_url(self):
        return reverse("machine", args=[self.pk])


class UnitPhoto(models.Model):
    """A picture of a machine and what it shows."""

    class Shows(models.TextChoices):
        ARRIVAL = "arrival", _("condition on arrival")
        FAULT = "fault", _("fault")
        SALE = "sale", _("for sale")

    unit = models.ForeignKey(Unit, models.PROTECT, verbose_name=_("machine"), related_name="photos")
    file = models.ForeignKey(StoredFile, models.PROTECT, verbose_name=_("file"), related_name="+")
    shows = models.CharField(_("shows"), max_length=10, choices=Shows)
    document = models.CharField(_("document"), max_length=40, blank=True)
    taken_at = models.DateTimeField(_("taken at"))
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("taken by"), related_name="+"
    )

    class Meta:
        ordering = ["taken_at", "id"]
        verbose_name = _("picture of a machine")
        verbose_name_plural = _("pictures of machines")

    def __str__(self):
        return f"{self.unit_id}: {self.shows}"
