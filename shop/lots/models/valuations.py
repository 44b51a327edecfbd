from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from shop.lots.models.lots import Lot
from units.rows.fields import FixedPointField, MoneyField


class Valuation(models.Model):
    """What a lot was worth by all that was known on a day; once reckoned it is never changed.

    ``inputs`` is the whole lot as it was valued (``domain.recording``), ``typed`` the figures that
    somebody set for it, ``origins`` by model what stood behind its own. One that is ``again_of``
    another was reckoned from that one's inputs, to see whether the figures come out the same.
    """

    class State(models.TextChoices):
        WAITING = "waiting", _("being reckoned")
        DONE = "done", _("reckoned")
        FAILED = "failed", _("not reckoned")

    lot = models.ForeignKey(Lot, models.PROTECT, verbose_name=_("lot"), related_name="valuations")
    key = models.UUIDField(_("once-only key"), unique=True)
    state = models.CharField(_("state"), max_length=8, choices=State, default=State.WAITING)
    trouble = models.CharField(_("trouble"), max_length=300, blank=True)
    asked = MoneyField(_("asked price"), null=True, blank=True)
    margin = FixedPointField(_("margin wanted"), places=4)
    odds = FixedPointField(_("how sure it has to be"), places=4)
    seed = models.PositiveIntegerField(_("seed"))
    draws = models.PositiveIntegerField(_("draws"))
    other_costs = MoneyField(_("other costs"), default=0)
    typed = models.JSONField(_("figures typed"), default=dict)
    inputs = models.JSONField(_("inputs"), null=True)
    origins = models.JSONField(_("what stands behind the figures"), default=dict)
    left_out = models.JSONField(_("lines not valued"), default=list)
    priors_only = models.BooleanField(_("all odds are stated ones"), default=True)
    figures = models.JSONField(_("figures"), null=True)
    versions = models.JSONField(_("versions"), default=dict)
    seconds = FixedPointField(_("seconds"), places=2, null=True)
    again_of = models.ForeignKey(
        "self",
        models.PROTECT,
        verbose_name=_("reckoned again"),
        related_name="again",
        null=True,
        blank=True,
    )
    valued_on = models.DateField(_("valued for"))
    wanted_at = models.DateTimeField(_("wanted at"))
    wanted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("wanted by"), related_name="+"
    )
    ended_at = models.DateTimeField(_("ended at"), null=True)

    class Meta:
        ordering = ["-wanted_at", "-id"]
        verbose_name = _("valuation")
        verbose_name_plural = _("valuations")
        constraints = [
            models.CheckConstraint(
                condition=Q(state="waiting", ended_at=None)
                | Q(
                    state="done",
                    trouble="",
                    inputs__isnull=False,
                    figures__isnull=False,
                    ended_at__isnull=False,
                )
                | Q(state="failed", trouble__gt="", ended_at__isnull=False),
                name="valuation_done_has_figures",
            ),
            models.CheckConstraint(
                condition=Q(odds__gt=0, odds__lt=1, margin__gt=-1, draws__gt=0),
                name="valuation_terms_possible",
            ),
        ]

    def __str__(self):
        return f"{self.lot}: {self.valued_on}"

    def get_absolute_url(self):
        return reverse("valuation", args=[self.pk])
