from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from parts.fits.forms import AGAIN, SPOILT
from units.show.inputs import DayInput


class CountForm(forms.Form):
    bin = forms.CharField(
        label=_("Bin"), max_length=40, widget=forms.TextInput(attrs={"list": "bins"})
    )
    counted = forms.DecimalField(
        label=_("Pieces counted"),
        min_value=Decimal(0),
        max_digits=9,
        decimal_places=3,
        widget=forms.NumberInput(attrs={"inputmode": "decimal"}),
    )
    on = forms.DateField(label=_("Counted on"), widget=DayInput)
    note = forms.CharField(label=_("Note"), max_length=200, required=False)
    seen = forms.IntegerField(
        min_value=0, widget=forms.HiddenInput, error_messages=dict.fromkeys(SPOILT, AGAIN)
    )
