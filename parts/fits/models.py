from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.fits.querysets import FitQuerySet, PartQuerySet, SisterQuerySet, SupersessionQuerySet
from units.catalogue.models import Component, MachineModel, Maker
from units.rows.fields import QuantityField


class Part(models.Model):
    """Something one can buy, by the number that its maker gave it.

    A standard part also has a ``designation``, in the one spelling that the domain keeps of it.
    """

    class Sort(models.TextChoices):
        BELT = "belt", _("V-ribbed belt")
        BEARING = "bearing", _("ball bearing")
        SCREW = "screw", _("socket screw")
        CORD = "cord", _("power cord")

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
    designation = models.CharField(_("designation"), max_length=40, blank=True)
    sort = models.CharField(_("standard part"), max_length=8, choices=Sort, blank=True)

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
            models.CheckConstraint(
                condition=Q(designation="", sort="") | Q(designation__gt="", sort__gt=""),
                name="designation_with_its_sort",
            ),
        ]
        indexes = [
            models.Index(fields=["designation"], name="standard_parts"),
            models.Index(fields=["number"], name="parts_by_number"),
        ]

    def __str__(self):
        return f"{self.number} {self.name}"

    def get_absolute_url(self):
        return reverse("part", args=[self.pk])


class Link(models.Model):
    """What somebody knows of two things, and how. It stands until it is withdrawn, once."""

    evidence = models.CharField(_("how we know"), max_length=200)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )
    withdrawn_at = models.DateTimeField(_("withdrawn at"), null=True, blank=True)
    withdrawn_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("withdrawn by"),
        related_name="+",
        null=True,
        blank=True,
    )
    withdrawn_because = models.CharField(_("why it was wrong"), max_length=400, blank=True)

    class Meta:
        abstract = True


WITHDRAWN_WHOLLY = Q(withdrawn_at=None, withdrawn_by=None, withdrawn_because="") | Q(
    withdrawn_at__isnull=False, withdrawn_by__isnull=False, withdrawn_because__gt=""
)


class Fit(Link):
    """That a part fits a component of a model, how many of it, and how we know.

    Parts of one component in different positions are needed together; those in the same position,
    or without one, stand for each other.
    """

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="fits")
    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="fits"
    )
    quantity = QuantityField(_("quantity"))
    position = models.CharField(
        _("where"),
        max_length=80,
        blank=True,
        help_text=_(
            "For instance: left side, or both ends. Parts of one component in different places are "
            "needed together; of parts in the same place, or in none, any one will do."
        ),
    )

    objects = FitQuerySet.as_manager()

    class Meta:
        verbose_name = _("fit")
        verbose_name_plural = _("fits")
        constraints = [
            models.UniqueConstraint(
                fields=["part", "model"],
                condition=Q(withdrawn_at=None),
                name="one_fit_a_part_and_model",
            ),
            models.CheckConstraint(condition=WITHDRAWN_WHOLLY, name="fit_withdrawn_wholly"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="fit_quantity_positive"),
        ]

    def __str__(self):
        return f"{self.part_id} → {self.model_id}"


class Designation(models.Model):
    """That a part is a standard one, by the designation that somebody typed, or is none (empty).

    The newest stands on the part itself.
    """

    part = models.ForeignKey(
        Part, models.PROTECT, verbose_name=_("part"), related_name="designations"
    )
    typed = models.CharField(_("as typed"), max_length=60, blank=True)
    designation = models.CharField(_("designation"), max_length=40, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-recorded_at", "-id"]
        verbose_name = _("designation of a part")
        verbose_name_plural = _("designations of parts")

    def __str__(self):
        return f"{self.part_id}: {self.designation}"


class Supersession(Link):
    """That a number became another one."""

    part = models.ForeignKey(Part, models.PROTECT, verbose_name=_("part"), related_name="became")
    replaced_by = models.ForeignKey(
        Part, models.PROTECT, verbose_name=_("replaced by"), related_name="replaces"
    )
    on = models.DateField(_("since"))

    objects = SupersessionQuerySet.as_manager()

    class Meta:
        ordering = ["on", "id"]
        verbose_name = _("supersession")
        verbose_name_plural = _("supersessions")
        constraints = [
            models.UniqueConstraint(
                fields=["part", "replaced_by"],
                condition=Q(withdrawn_at=None),
                name="supersession_once",
            ),
            models.CheckConstraint(
                condition=~Q(part=F("replaced_by")), name="part_not_replaced_by_itself"
            ),
            models.CheckConstraint(
                condition=WITHDRAWN_WHOLLY, name="supersession_withdrawn_wholly"
            ),
        ]

    def __str__(self):
        return f"{self.part_id} → {self.replaced_by_id}"


class Sister(Link):
    """That two models, often under two labels, share their parts, or those of one component.

    The pair has no order: the lower id stands first.
    """

    model = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("model"), related_name="sisters"
    )
    other = models.ForeignKey(
        MachineModel, models.PROTECT, verbose_name=_("other model"), related_name="sisters_back"
    )
    component = models.ForeignKey(
        Component,
        models.PROTECT,
        verbose_name=_("component"),
        related_name="+",
        null=True,
        blank=True,
        help_text=_("Empty when they share everything."),
    )

    objects = SisterQuerySet.as_manager()

    class Meta:
        ordering = ["id"]
        verbose_name = _("sister model")
        verbose_name_plural = _("sister models")
        constraints = [
            models.UniqueConstraint(
                fields=["model", "other", "component"],
                condition=Q(withdrawn_at=None),
                name="sisters_once_a_component",
            ),
            models.UniqueConstraint(
                fields=["model", "other"],
                condition=Q(withdrawn_at=None, component=None),
                name="sisters_once_in_everything",
            ),
            models.CheckConstraint(condition=Q(model__lt=F("other")), name="sisters_lower_first"),
            models.CheckConstraint(condition=WITHDRAWN_WHOLLY, name="sisters_withdrawn_wholly"),
        ]

    def __str__(self):
        return f"{self.model_id} = {self.other_id}"
