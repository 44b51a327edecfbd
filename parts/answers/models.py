from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from parts.answers.querysets import AnswerQuerySet
from parts.fits.models import Part
from units.catalogue.models import Component, MachineModel
from units.files.models import StoredFile
from units.rows.fields import UnitCostField


class FreshnessRule(models.Model):
    """For how many days an answer that came this way is fresh; empty means for ever.

    A published end of support never ages, whatever stands here.
    """

    class Channel(models.TextChoices):
        PHONE = "phone", _("by telephone")
        MAIL = "mail", _("in writing")
        NOTICE = "notice", _("by a published notice")
        LISTING = "listing", _("in a supplier’s list")
        ORDER = "order", _("by our own received order")
        RETURN = "return", _("by an order that went back")

    channel = models.CharField(_("how it came"), max_length=10, choices=Channel, primary_key=True)
    days = models.PositiveSmallIntegerField(_("days it stays fresh"), null=True, blank=True)
    back_order_days = models.PositiveSmallIntegerField(
        _("days a back-order without a date stays fresh"), null=True, blank=True
    )

    class Meta:
        verbose_name = _("freshness rule")
        verbose_name_plural = _("freshness rules")

    def __str__(self):
        return f"{self.channel}: {self.days}"


class FreshnessChange(models.Model):
    """That somebody set for how long answers of a channel stay fresh, from what and to what.

    The rule itself holds what counts now; what counted on a past day is read from here.
    """

    rule = models.ForeignKey(
        FreshnessRule, models.PROTECT, verbose_name=_("rule"), related_name="changes"
    )
    days = models.PositiveSmallIntegerField(_("days it stays fresh"), null=True)
    back_order_days = models.PositiveSmallIntegerField(
        _("days a back-order without a date stays fresh"), null=True
    )
    days_before = models.PositiveSmallIntegerField(_("days it stayed fresh before"), null=True)
    back_order_days_before = models.PositiveSmallIntegerField(
        _("days a back-order without a date stayed fresh before"), null=True
    )
    changed_at = models.DateTimeField(_("changed at"))
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("changed by"), related_name="+"
    )

    class Meta:
        ordering = ["-changed_at", "-id"]
        verbose_name = _("change of freshness")
        verbose_name_plural = _("changes of freshness")

    def __str__(self):
        return f"{self.rule_id}: {self.days}"


class Answer(models.Model):
    """What was said, or proved, on one day of a model, one component of it, or one part.

    Answers only grow; a wrong one is withdrawn. ``party`` names the supplier or workshop by the
    name under which it answered; for the maker's own route it is empty.
    """

    class Status(models.TextChoices):
        SUPPORTED = "supported", _("supported")
        LIMITED = "limited", _("limited")
        BACK_ORDERED = "back-ordered", _("back-ordered")
        SUPERSEDED = "superseded", _("replaced by another number")
        ENDED = "ended", _("ended")
        NO_ANSWER = "no-answer", _("no answer")

    class Route(models.TextChoices):
        MAKER = "maker", _("the maker")
        SUPPLIER = "supplier", _("a supplier")
        REBUILD = "rebuild", _("rebuilt or exchanged")
        MADE = "made", _("made to size")

    class Warranty(models.TextChoices):
        UNKNOWN = "unknown", _("not asked")
        YES = "yes", _("passes to a second owner")
        NO = "no", _("does not pass")

    model = models.ForeignKey(
        MachineModel,
        models.PROTECT,
        verbose_name=_("model"),
        related_name="answers",
        null=True,
        blank=True,
    )
    component = models.ForeignKey(
        Component,
        models.PROTECT,
        verbose_name=_("component"),
        related_name="answers",
        null=True,
        blank=True,
        help_text=_("Empty when the answer is for the whole model."),
    )
    part = models.ForeignKey(
        Part,
        models.PROTECT,
        verbose_name=_("part"),
        related_name="answers",
        null=True,
        blank=True,
    )
    route = models.CharField(_("by way of"), max_length=8, choices=Route, default=Route.MAKER)
    party = models.CharField(_("supplier or workshop"), max_length=120, blank=True)
    status = models.CharField(_("parts are"), max_length=12, choices=Status)
    until = models.DateField(_("back-ordered until"), null=True, blank=True)
    given_on = models.DateField(_("given on"))
    effective_on = models.DateField(
        _("holds from"),
        null=True,
        blank=True,
        help_text=_("Only when a published notice takes effect later than it was given."),
    )
    given_by = models.CharField(_("who said so"), max_length=120)
    channel = models.CharField(_("how"), max_length=10, choices=FreshnessRule.Channel)
    warranty = models.CharField(
        _("maker's warranty"), max_length=8, choices=Warranty, default=Warranty.UNKNOWN
    )
    dealer_only = models.BooleanField(_("only through a dealer’s account"), default=False)
    replaced_by = models.ForeignKey(
        Part,
        models.PROTECT,
        verbose_name=_("replaced by"),
        related_name="+",
        null=True,
        blank=True,
    )
    cost = UnitCostField(_("cost for one"), null=True, blank=True)
    lead_days = models.PositiveSmallIntegerField(_("days to come"), null=True, blank=True)
    file = models.ForeignKey(
        StoredFile,
        models.PROTECT,
        verbose_name=_("letter or picture"),
        related_name="+",
        null=True,
        blank=True,
    )
    note = models.CharField(_("note"), max_length=400, blank=True)
    recorded_at = models.DateTimeField(_("written down at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    objects = AnswerQuerySet.as_manager()

    class Meta:
        ordering = ["-given_on", "-id"]
        verbose_name = _("answer")
        verbose_name_plural = _("answers")
        constraints = [
            models.CheckConstraint(
                condition=Q(until=None) | Q(status="back-ordered"), name="until_only_back_ordered"
            ),
            models.CheckConstraint(
                condition=Q(model__isnull=False, part=None)
                | Q(model=None, component=None, part__isnull=False),
                name="answer_for_a_model_or_a_part",
            ),
            models.CheckConstraint(
                condition=Q(route="maker", party="") | (~Q(route="maker") & Q(party__gt="")),
                name="party_named_unless_the_maker",
            ),
            models.CheckConstraint(
                condition=Q(replaced_by=None) | Q(status="superseded"),
                name="replaced_only_when_superseded",
            ),
            models.CheckConstraint(
                condition=Q(cost=None) | Q(cost__gte=0), name="answered_cost_not_negative"
            ),
            models.CheckConstraint(condition=Q(given_by__gt=""), name="answer_has_its_speaker"),
            models.CheckConstraint(
                condition=Q(until=None) | Q(until__gte=F("given_on")),
                name="until_the_day_given_or_later",
            ),
            models.CheckConstraint(
                condition=Q(effective_on=None)
                | Q(channel="notice", effective_on__gte=F("given_on")),
                name="only_a_notice_holds_from_later",
            ),
            models.CheckConstraint(
                condition=~Q(status="superseded") | Q(part__isnull=False),
                name="only_a_part_is_superseded",
            ),
            models.CheckConstraint(
                condition=Q(replaced_by=None) | ~Q(part=F("replaced_by")),
                name="answered_part_not_replaced_by_itself",
            ),
        ]
        indexes = [
            models.Index(fields=["part", "-given_on"], name="answers_of_a_part"),
            models.Index(fields=["model", "-given_on"], name="answers_of_a_model"),
        ]

    def __str__(self):
        return f"{self.model_id or self.part_id}: {self.status} ({self.given_on})"

    def get_absolute_url(self):
        """An answer is read on the page of what it is about."""
        if self.part_id:
            return reverse("part", args=[self.part_id])
        return reverse("model", args=[self.model_id])

    @property
    def subject(self):
        return self.part or self.model


class Withdrawal(models.Model):
    """That an answer was wrong, and why: it counts no longer from ``recorded_at``."""

    answer = models.OneToOneField(
        Answer, models.PROTECT, verbose_name=_("answer"), related_name="withdrawal"
    )
    reason = models.CharField(_("reason"), max_length=400)
    recorded_at = models.DateTimeField(_("written down at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("written down by"),
        related_name="+",
    )

    class Meta:
        verbose_name = _("withdrawal")
        verbose_name_plural = _("withdrawals")
        constraints = [
            models.CheckConstraint(condition=Q(reason__gt=""), name="withdrawal_has_its_reason")
        ]

    def __str__(self):
        return f"{self.answer_id}: {self.reason}"
