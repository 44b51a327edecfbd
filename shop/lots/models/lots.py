from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from shop.lots.querysets import LotQuerySet
from shop.people.models import Customer
from units.rows.fields import MoneyField


class Lot(models.Model):
    """What a seller offers: a closing club's floor, or one machine, which is a lot of one."""

    class State(models.TextChoices):
        LISTING = "listing", _("list not confirmed")
        LISTED = "listed", _("list confirmed")
        AGREED = "agreed", _("price agreed")
        PAID = "paid", _("paid")
        LOADED = "loaded", _("loaded out")
        TAKEN = "taken-in", _("taken in")
        LEFT = "walked-away", _("walked away")

    key = models.UUIDField(_("once-only key"), unique=True, null=True)
    seller = models.ForeignKey(
        Customer, models.PROTECT, verbose_name=_("seller"), related_name="lots"
    )
    title = models.CharField(_("title"), max_length=120)
    state = models.CharField(_("state"), max_length=12, choices=State, default=State.LISTING)
    asked = MoneyField(_("asked price"), null=True, blank=True)
    agreed = MoneyField(_("agreed price"), null=True, blank=True)
    # Given when the seller is paid; the machines and goods that come are bought under it.
    document = models.CharField(  # noqa: DJ001 - lots without one must not be alike
        _("bought under"), max_length=20, null=True, blank=True
    )
    offered_on = models.DateField(_("offered on"))
    remove_by = models.DateField(_("to be removed by"), null=True, blank=True)
    kilometres = models.PositiveSmallIntegerField(_("kilometres one way"), null=True, blank=True)
    steps = models.PositiveSmallIntegerField(_("steps to the truck"), null=True, blank=True)
    has_power = models.BooleanField(_("has power on site"), null=True, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    objects = LotQuerySet.as_manager()

    class Meta:
        ordering = ["-offered_on", "-id"]
        verbose_name = _("lot")
        verbose_name_plural = _("lots")
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    state__in=[
                        "listing", "listed", "agreed", "paid", "loaded", "taken-in", "walked-away",
                    ]
                ),
                name="lot_in_known_state",
            ),
            models.CheckConstraint(
                condition=Q(state__in=["listing", "listed", "walked-away"])
                | Q(agreed__isnull=False),
                name="lot_agreed_has_price",
            ),
            models.UniqueConstraint(
                fields=["document"],
                condition=Q(document__isnull=False),
                name="lot_bought_under_one_document",
            ),
        ]  # fmt: skip

    def __str__(self):
        return self.title

    def get_absolute_url(self):
        return reverse("lot", args=[self.pk])

    @property
    def may_change(self) -> bool:
        """Whether its list may still be changed: no price hangs on it yet."""
        return self.state in (self.State.LISTING, self.State.LISTED)

    @property
    def is_paid(self) -> bool:
        return self.state in (self.State.PAID, self.State.LOADED, self.State.TAKEN)

    @property
    def is_out(self) -> bool:
        """Whether nothing of it is to be removed any more."""
        return self.state in (self.State.LOADED, self.State.TAKEN, self.State.LEFT)

    @property
    def may_be_loaded(self) -> bool:
        return self.state in (self.State.AGREED, self.State.PAID)


class LotStep(models.Model):
    """A step of a lot: who took it, when and why. Steps only grow."""

    lot = models.ForeignKey(Lot, models.PROTECT, verbose_name=_("lot"), related_name="log")
    state = models.CharField(_("state"), max_length=12, choices=Lot.State)
    amount = MoneyField(_("amount"), null=True, blank=True)
    note = models.CharField(_("note"), max_length=300, blank=True)
    done_on = models.DateField(_("day"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["recorded_at", "id"]
        verbose_name = _("step of a lot")
        verbose_name_plural = _("steps of lots")

    def __str__(self):
        return f"{self.lot}: {self.get_state_display()}"


class LotMatter(models.Model):
    """What was learnt of a question that stands before payment. The newest answer counts."""

    class Matter(models.TextChoices):
        AUTHORITY = "authority", _("May the seller sell? (owner, or a written authority)")
        LEASE = "lease", _("Are machines leased or rented?")
        LIEN = "lien", _("Does a bank or a lender hold a claim on them?")
        LANDLORD = "landlord", _("Does the landlord let them leave?")

    class Outcome(models.TextChoices):
        CLEAR = "clear", _("in order")
        HELD = "held", _("money held back until it is settled")
        AGAINST = "against", _("stands against it")

    lot = models.ForeignKey(Lot, models.PROTECT, verbose_name=_("lot"), related_name="matters")
    matter = models.CharField(_("question"), max_length=10, choices=Matter)
    outcome = models.CharField(_("answer"), max_length=8, choices=Outcome)
    held = MoneyField(_("held back"), default=0)
    given_by = models.CharField(_("said by"), max_length=120)
    note = models.CharField(_("what was shown or said"), max_length=300, blank=True)
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["recorded_at", "id"]
        verbose_name = _("question before payment")
        verbose_name_plural = _("questions before payment")
        constraints = [
            models.CheckConstraint(
                condition=Q(outcome="held", held__gt=0)
                | Q(outcome__in=["clear", "against"], held=0),
                name="lot_matter_held_has_amount",
            ),
            models.CheckConstraint(
                condition=Q(matter__in=["authority", "lease", "lien", "landlord"]),
                name="lot_matter_known",
            ),
        ]

    def __str__(self):
        return f"{self.lot}: {self.matter} {self.outcome}"
