"""The sheet of assumptions that counts for every lot."""

from collections.abc import Mapping
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.lots.domain.assumptions import stated, stated_terms
from shop.lots.forms.valuing import LEAST, MOST, PERCENT, plain_number
from shop.lots.models import ShopFigure


class ShopFiguresForm(forms.Form):
    """``figure_`` and a key is an assumption; an empty field stands for the stated figure."""

    margin = forms.DecimalField(
        label=_("Margin wanted, percent of everything laid out"),
        min_value=Decimal(-50), max_value=Decimal(500), max_digits=6, decimal_places=2,
        required=False,
    )  # fmt: skip
    odds = forms.DecimalField(
        label=_("How sure the margin has to be, percent"),
        min_value=Decimal(1), max_value=Decimal(99), max_digits=4, decimal_places=2,
        required=False,
    )  # fmt: skip
    why = forms.CharField(
        label=_("Why"),
        max_length=200,
        required=False,
        help_text=_("What speaks for the new figures: it stands beside them on every bid."),
    )

    def __init__(self, *args, figures: Mapping[str, ShopFigure], **kwargs):
        super().__init__(*args, **kwargs)
        self.held = figures
        terms = stated_terms()
        for key, base in (("margin", terms.margin), ("odds", terms.odds)):
            one = self.held.get(key)
            self.fields[key].initial = plain_number(PERCENT * one.value) if one else None
            self.fields[key].help_text = _("Stated: %(figure)s.") % {
                "figure": plain_number(PERCENT * Decimal(str(base)))
            }
        for key in stated():
            field = forms.DecimalField(
                required=False,
                max_digits=12,
                decimal_places=6,
                min_value=Decimal(str(LEAST.get(key, 0))),
                max_value=Decimal(str(MOST.get(key, 100_000))),
            )
            one = self.held.get(key)
            field.initial = plain_number(one.value) if one else None
            self.fields[f"figure_{key}"] = field

    @property
    def sheet(self) -> list:
        """Each assumption with what the shop set and its field."""
        return [(one, self.held.get(key), self[f"figure_{key}"]) for key, one in stated().items()]

    def figures(self) -> dict[str, Decimal | None]:
        said = self.cleaned_data
        found = {key: said[f"figure_{key}"] for key in stated()}
        for key in ("margin", "odds"):
            found[key] = None if said[key] is None else said[key] / PERCENT
        return found
