"""What the work will cost, and the yes or no to it."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from parts.fits.models import Part
from shop.till.models import LineClass
from shop.work.models.jobs import WorkOrder
from units.catalogue.models import Component, Kind
from units.rows.fields import MoneyField, QuantityField, UnitCostField


class Estimate(models.Model):
    """One version of what the work will cost. Once offered it is never changed."""

    job = models.ForeignKey(
        WorkOrder, models.PROTECT, verbose_name=_("job"), related_name="estimates"
    )
    version = models.PositiveSmallIntegerField(_("version"))
    made_at = models.DateTimeField(_("made at"))
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("made by"), related_name="+"
    )
    offered_at = models.DateTimeField(_("offered at"), null=True)
    offered_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("offered by"),
        related_name="+",
        null=True,
    )

    class Meta:
        ordering = ["job", "-version"]
        verbose_name = _("estimate")
        verbose_name_plural = _("estimates")
        constraints = [
            models.UniqueConstraint(fields=["job", "version"], name="estimate_version_once"),
            models.CheckConstraint(
                condition=Q(offered_at=None, offered_by=None)
                | Q(offered_at__isnull=False, offered_by__isnull=False),
                name="estimate_offered_by_someone",
            ),
        ]

    def __str__(self):
        return f"{self.job_id} / {self.version}"


class Alternative(models.Model):
    """One of the ways between which the payer chooses; a letter names it. Fixed once offered.

    ``we_pay`` is what we would give for the machine instead of repairing it.
    """

    class Sort(models.TextChoices):
        WORK = "work", _("we do the work")
        DONOR = "donor", _("we take the machine for its parts")

    estimate = models.ForeignKey(
        Estimate, models.CASCADE, verbose_name=_("estimate"), related_name="alternatives"
    )
    letter = models.CharField(_("letter"), max_length=1)
    name = models.CharField(_("name"), max_length=80)
    sort = models.CharField(_("what we do"), max_length=6, choices=Sort, default=Sort.WORK)
    we_pay = MoneyField(_("what we pay for the machine"), null=True, blank=True)

    class Meta:
        ordering = ["estimate", "letter"]
        verbose_name = _("alternative of an estimate")
        verbose_name_plural = _("alternatives of estimates")
        constraints = [
            models.UniqueConstraint(fields=["estimate", "letter"], name="alternative_letter_once"),
            models.CheckConstraint(
                condition=Q(sort="work", we_pay=None) | Q(sort="donor", we_pay__gte=0),
                name="alternative_pays_for_a_donor",
            ),
        ]

    def __str__(self):
        return f"{self.letter}: {self.name}"


class EstimateLine(models.Model):
    """A part, labour or other line. ``reason`` says why it is there, in words.

    ``only_in`` holds the letters of the alternatives in which it stands; empty: in each where we
    do the work. ``timed`` labour is charged by the time written, its price is what is expected.
    """

    estimate = models.ForeignKey(
        Estimate, models.CASCADE, verbose_name=_("estimate"), related_name="lines"
    )
    position = models.PositiveSmallIntegerField(_("position"))
    line_class = models.CharField(_("class"), max_length=8, choices=LineClass)
    description = models.CharField(_("description"), max_length=200)
    component = models.ForeignKey(
        Component,
        models.PROTECT,
        verbose_name=_("component"),
        related_name="+",
        null=True,
        blank=True,
    )
    part = models.ForeignKey(
        Part, models.PROTECT, verbose_name=_("part"), related_name="+", null=True, blank=True
    )
    quantity = QuantityField(_("quantity"))
    minutes = models.PositiveSmallIntegerField(_("minutes"), null=True, blank=True)
    unit_cost = UnitCostField(_("cost for one"), null=True, blank=True)
    unit_price = MoneyField(_("price for one"))
    net = MoneyField(_("net"))
    reason = models.CharField(_("why"), max_length=400, blank=True)
    only_in = models.CharField(_("only in"), max_length=8, blank=True)
    timed = models.BooleanField(_("charged by the time written"), default=False)

    class Meta:
        ordering = ["estimate", "position"]
        verbose_name = _("line of an estimate")
        verbose_name_plural = _("lines of estimates")
        constraints = [
            models.UniqueConstraint(fields=["estimate", "position"], name="estimate_position_once"),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="estimate_quantity_positive"),
            models.CheckConstraint(
                condition=Q(timed=False) | Q(line_class="labour"), name="only_labour_is_timed"
            ),
        ]

    def __str__(self):
        return self.description

    def stands_in(self, alternative: Alternative | None) -> bool:
        """Whether the line belongs to what was chosen; without a choice every line does."""
        if alternative is None:
            return True
        if alternative.sort == Alternative.Sort.DONOR:
            return alternative.letter in self.only_in
        return not self.only_in or alternative.letter in self.only_in


class Approval(models.Model):
    """The payer's yes or no to one version of an estimate."""

    class Channel(models.TextChoices):
        COUNTER = "counter", _("at the counter")
        PHONE = "phone", _("by telephone")
        MAIL = "mail", _("in writing")
        LIMIT = "limit", _("within the limit given on arrival")
        OWN = "own", _("for our own stock")
        WARRANTY = "warranty", _("under our own warranty")

    estimate = models.OneToOneField(
        Estimate, models.PROTECT, verbose_name=_("estimate"), related_name="approval"
    )
    alternative = models.ForeignKey(
        Alternative,
        models.PROTECT,
        verbose_name=_("alternative chosen"),
        related_name="+",
        null=True,
        blank=True,
    )
    yes = models.BooleanField(_("said yes"))
    given_by = models.CharField(_("who"), max_length=120)
    channel = models.CharField(_("how"), max_length=10, choices=Channel)
    up_to = MoneyField(_("up to, before tax"), null=True, blank=True)
    given_at = models.DateTimeField(_("given at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    class Meta:
        verbose_name = _("approval")
        verbose_name_plural = _("approvals")
        constraints = [
            models.CheckConstraint(
                condition=Q(yes=False, up_to=None) | Q(yes=True, up_to__isnull=False),
                name="a_yes_has_a_limit",
            )
        ]

    def __str__(self):
        return f"{self.estimate_id}: {self.yes}"


class FlatRate(models.Model):
    """Minutes that a kind of work on a component usually takes; the shop edits them.

    One without a ``kind`` counts for every kind of machine that has none of its own. Nobody
    changed one that stands as it was loaded.
    """

    class Act(models.TextChoices):
        REPLACE = "replace", _("replace")
        SERVICE = "service", _("clean, adjust or lubricate")
        DIAGNOSE = "diagnose", _("find the cause")

    act = models.CharField(_("work"), max_length=10, choices=Act)
    component = models.ForeignKey(
        Component, models.CASCADE, verbose_name=_("component"), related_name="flat_rates"
    )
    kind = models.ForeignKey(
        Kind,
        models.CASCADE,
        verbose_name=_("kind"),
        related_name="flat_rates",
        null=True,
        blank=True,
    )
    minutes = models.PositiveSmallIntegerField(_("minutes"))
    changed_at = models.DateTimeField(_("changed at"), null=True)
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("changed by"),
        related_name="+",
        null=True,
    )

    class Meta:
        ordering = ["component", "act", "kind"]
        verbose_name = _("flat-rate time")
        verbose_name_plural = _("flat-rate times")
        constraints = [
            models.UniqueConstraint(
                fields=["act", "component"],
                condition=models.Q(kind=None),
                name="one_flat_rate_an_act",
            ),
            models.UniqueConstraint(
                fields=["act", "component", "kind"], name="one_flat_rate_an_act_and_kind"
            ),
        ]

    def __str__(self):
        return f"{self.act} {self.component_id}: {self.minutes}"
