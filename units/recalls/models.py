from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from units.catalogue.models import Unit
from units.recalls.domain.notice import Notice, Product


class RecallCheck(models.Model):
    """That somebody compared a machine with the current list of recalls, and what came of it."""

    class Outcome(models.TextChoices):
        NONE = "none", _("no recall fits")
        FITS = "fits", _("a recall fits")
        UNSURE = "unsure", _("cannot tell")

    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="recall_checks"
    )
    outcome = models.CharField(_("outcome"), max_length=8, choices=Outcome)
    source = models.CharField(_("list that was read"), max_length=120)
    note = models.CharField(_("note"), max_length=400, blank=True)
    checked_on = models.DateField(_("checked on"))
    recorded_at = models.DateTimeField(_("recorded at"))
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("recorded by"), related_name="+"
    )

    class Meta:
        ordering = ["-checked_on", "-id"]
        verbose_name = _("recall check")
        verbose_name_plural = _("recall checks")

    def __str__(self):
        return f"{self.unit_id}: {self.outcome}"


class Recall(models.Model):
    """A published notice as its newest load has it. Which machines it means is never stored:
    it is compared whenever that is asked, so that no machine that comes later is missed."""

    key = models.CharField(_("number for matching"), max_length=60, unique=True)
    number = models.CharField(_("recall number"), max_length=60)
    title = models.TextField(_("title"))
    announced_on = models.DateField(_("announced on"), null=True)
    published_on = models.DateField(
        _("published on"), null=True, help_text=_("The day of the newest wording that we have.")
    )
    url = models.TextField(_("address"), blank=True)
    description = models.TextField(_("what is recalled"), blank=True)
    products = models.JSONField(_("products"), default=list)
    parties = models.JSONField(_("makers and importers"), default=list)
    hazard = models.TextField(_("hazard"), blank=True)
    remedy = models.TextField(_("remedy"), blank=True)
    contact = models.TextField(_("whom to ask"), blank=True)
    sold_at = models.TextField(_("sold at"), blank=True)
    digest = models.CharField(_("digest"), max_length=64)
    loaded_at = models.DateTimeField(_("loaded at"))

    class Meta:
        ordering = ["-announced_on", "-id"]
        verbose_name = _("recall")
        verbose_name_plural = _("recalls")

    def __str__(self):
        return f"{self.number}: {self.title}"

    def get_absolute_url(self):
        return reverse("recall", args=[self.pk])

    @property
    def notice(self) -> Notice:
        return Notice(
            number=self.number,
            title=self.title,
            announced_on=self.announced_on,
            published_on=self.published_on,
            url=self.url,
            description=self.description,
            products=tuple(Product(**product) for product in self.products),
            parties=tuple(self.parties),
            hazard=self.hazard,
            remedy=self.remedy,
            contact=self.contact,
            sold_at=self.sold_at,
        )


class RecallWord(models.Model):
    """A word of a notice that may name a maker or a label: how its notices are found."""

    recall = models.ForeignKey(
        Recall, models.CASCADE, verbose_name=_("recall"), related_name="words"
    )
    word = models.CharField(_("word"), max_length=60, db_index=True)

    class Meta:
        verbose_name = _("word of a recall")
        verbose_name_plural = _("words of recalls")
        constraints = [
            models.UniqueConstraint(fields=["recall", "word"], name="word_once_per_recall")
        ]

    def __str__(self):
        return self.word


class RecallVersion(models.Model):
    """What a notice said when it was loaded, as it was published."""

    recall = models.ForeignKey(
        Recall, models.PROTECT, verbose_name=_("recall"), related_name="versions"
    )
    digest = models.CharField(_("digest"), max_length=64)
    raw = models.TextField(_("as published, in JSON"))
    loaded_at = models.DateTimeField(_("loaded at"))

    class Meta:
        ordering = ["-loaded_at", "-id"]
        verbose_name = _("version of a recall")
        verbose_name_plural = _("versions of recalls")

    def __str__(self):
        return f"{self.recall_id}: {self.digest[:8]}"


class RecallLoad(models.Model):
    """That a list of recalls was loaded, and what it brought."""

    name = models.CharField(_("file"), max_length=200)
    digest = models.CharField(_("digest"), max_length=64)
    new = models.PositiveIntegerField(_("new"))
    changed = models.PositiveIntegerField(_("changed"))
    same = models.PositiveIntegerField(_("as before"))
    older = models.PositiveIntegerField(_("older, left out"), default=0)
    opened = models.PositiveIntegerField(_("matches opened"))
    loaded_at = models.DateTimeField(_("loaded at"))
    loaded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        verbose_name=_("loaded by"),
        related_name="+",
        null=True,
        help_text=_("Nobody: by the command."),
    )

    class Meta:
        ordering = ["-loaded_at", "-id"]
        verbose_name = _("loaded list of recalls")
        verbose_name_plural = _("loaded lists of recalls")

    def __str__(self):
        return self.name

    @property
    def left_out(self) -> str:
        """Says of how many notices a later wording was known; nothing if of none."""
        if not self.older:
            return ""
        sentence = ngettext(
            "%(older)d notice was left out: a later wording of it is known.",
            "%(older)d notices were left out: later wordings of them are known.",
            self.older,
        )
        return sentence % {"older": self.older}


class RecallDecision(models.Model):
    """What a person decided about a match of a recall and a machine; the newest counts.

    ``basis`` is the digest of what was judged: once the ranges of the notice or the identity of
    the machine are others, the decision speaks of something else.
    """

    class Outcome(models.TextChoices):
        CONFIRMED = "confirmed", _("it is recalled")
        DISMISSED = "dismissed", _("it is not meant")
        REMEDIED = "remedied", _("the remedy is done")

    recall = models.ForeignKey(
        Recall, models.PROTECT, verbose_name=_("recall"), related_name="decisions"
    )
    unit = models.ForeignKey(
        Unit, models.PROTECT, verbose_name=_("machine"), related_name="recall_decisions"
    )
    outcome = models.CharField(_("outcome"), max_length=9, choices=Outcome)
    how = models.CharField(_("how sure"), max_length=20)
    basis = models.CharField(_("what was judged"), max_length=64)
    reason = models.CharField(_("reason"), max_length=400)
    advice = models.CharField(_("advice taken"), max_length=400, blank=True)
    decided_at = models.DateTimeField(_("decided at"))
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("decided by"), related_name="+"
    )

    class Meta:
        ordering = ["-decided_at", "-id"]
        verbose_name = _("decision about a recall")
        verbose_name_plural = _("decisions about recalls")
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="recall_decision_has_a_reason"),
            models.CheckConstraint(
                condition=~Q(outcome="remedied") | ~Q(advice=""),
                name="recall_remedy_has_advice",
            ),
        ]

    def __str__(self):
        return f"{self.recall_id}, {self.unit_id}: {self.outcome}"
