from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _


class HaulForm(forms.Form):
    haul = forms.DecimalField(
        label=_("What fetching the lot cost"),
        min_value=Decimal(0),
        max_digits=12,
        decimal_places=2,
        help_text=_("Trucks and crew; it joins the price and is split with it."),
    )
