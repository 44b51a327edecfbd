"""How a lot is to be valued: the terms, and the sheet of assumptions."""

import uuid
from collections.abc import Iterable
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.lots.domain.assumptions import stated
from shop.lots.domain.valuing import DRAWS
from shop.lots.selectors.figures import sheet_of, terms_of

PERCENT = Decimal(100)
# Between which a figure may be typed, where it is not money, hours or times of something.
LEAST = {"odds_shift": -3.0, "bench_hours": 0.5}
MOST = {
    "odds_shift": 3.0,
    "lot_weight": 0.9,
    "machine_weight": 0.9,
    "market_sd": 2.0,
    "money": 1.0,
    "as_is_share": 1.0,
    "donor_falls": 1.0,
}


def plain_number(value: Decimal) -> str:
    """A figure as somebody would type it: ``35``, not ``35.0000``."""
    return f"{value.normalize():f}"


class WorthForm(forms.Form):
    """``figure_`` and a key is an assumption, ``price_`` and a place what a model sells for.

    ``figures`` is what the shop set for every lot; what is typed here counts for this lot alone.
    """

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    asked = forms.DecimalField(
        label=_("What the seller asks for everything"),
        required=False,
        min_value=Decimal(0),
        max_digits=12,
        decimal_places=2,
        help_text=_("Leave it empty if he asks for our price."),
    )
    margin = forms.DecimalField(
        label=_("Margin wanted, percent of everything laid out"),
        min_value=Decimal(-50),
        max_value=Decimal(500),
        max_digits=6,
        decimal_places=2,
    )
    odds = forms.DecimalField(
        label=_("How sure the margin has to be, percent"),
        min_value=Decimal(1),
        max_value=Decimal(99),
        max_digits=4,
        decimal_places=2,
    )
    other_costs = forms.DecimalField(
        label=_("Costs that no machine changes, such as permits"),
        min_value=Decimal(0),
        max_digits=12,
        decimal_places=2,
        initial=0,
    )
    draws = forms.IntegerField(label=_("Draws"), initial=DRAWS)
    seed = forms.IntegerField(label=_("Seed"), min_value=0, max_value=2**31 - 1, initial=1)

    def __init__(self, *args, typed=None, models: Iterable[str] = (), figures=None, **kwargs):
        super().__init__(*args, **kwargs)
        typed = typed or {}
        self.models = list(models)
        self.held = figures or {}
        terms = terms_of(self.held)
        for name, share in (("margin", terms.margin), ("odds", terms.odds)):
            self.fields[name].initial = plain_number(PERCENT * Decimal(str(share)))
        for key, one in stated().items():
            field = forms.FloatField(
                label=one.name,
                required=False,
                min_value=LEAST.get(key, 0.0),
                max_value=MOST.get(key, 100_000.0),
            )
            field.initial = typed.get(key)
            self.fields[f"figure_{key}"] = field
        for place, model in enumerate(self.models):
            field = forms.FloatField(label=model, required=False, min_value=0)
            field.initial = typed.get(f"price:{model}")
            self.fields[f"price_{place}"] = field

    @property
    def sheet(self) -> list:
        """Each assumption as it counts for every lot, with its field."""
        return [(one, self[f"figure_{one.stated.key}"]) for one in sheet_of(self.held, {})]

    @property
    def prices(self) -> list:
        return [self[f"price_{place}"] for place in range(len(self.models))]

    @property
    def typed(self) -> dict[str, float]:
        """What somebody set; what equals the figure for every lot is not typed."""
        said = self.cleaned_data
        figures = {
            one.stated.key: said[f"figure_{one.stated.key}"]
            for one in sheet_of(self.held, {})
            if said[f"figure_{one.stated.key}"] not in (None, one.value)
        }
        prices = {
            f"price:{model}": said[f"price_{place}"]
            for place, model in enumerate(self.models)
            if said[f"price_{place}"] is not None
        }
        return figures | prices
