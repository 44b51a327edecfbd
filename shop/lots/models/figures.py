from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from units.rows.fields import FixedPointField


class ShopFigure(models.Model):
    """A figure of the sheet of assumptions as the owner set it for every lot; the newest counts.

    ``key`` is one of ``lots.toml``; without a ``value`` the stated figure counts again. Rows only
    grow, so that a bid can tell what counted when it was wanted.
    """

    key = models.CharField(_("assumption"), max_length=30)
    value = FixedPointField(_("figure"), places=6, null=True, blank=True)
    why = models.CharField(_("why"), max_length=200, blank=True)
    set_at = models.DateTimeField(_("set at"))
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, verbose_name=_("set by"), related_name="+"
    )

    class Meta:
        ordering = ["set_at", "id"]
        verbose_name = _("figure for every lot")
        verbose_name_plural = _("figures for every lot")
        constraints = [
            models.CheckConstraint(condition=Q(key__gt=""), name="shop_figure_names_assumption")
        ]

    def __str__(self):
        return f"{self.key}: {self.value}"
