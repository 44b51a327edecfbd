from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from parts.fits.forms import AGAIN, SPOILT
from parts.stock.forms.fields import BinInput, OnceKey, QuantityInput
from parts.stock.models import CostingChoice
from units.show.inputs import DayInput


class CountForm(forms.Form):
    bin = BinInput()
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


class _FromBinForm(forms.Form):
    """What is common to taking pieces of one part out of one bin."""

    def __init__(self, *args, places, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["place"].choices = [(str(at.bin_id), str(at.bin)) for at in places]
        self.places = {str(at.bin_id): at.bin for at in places}

    def clean_place(self):
        return self.places[self.cleaned_data["place"]]


class ScrapForm(_FromBinForm):
    place = forms.ChoiceField(label=_("Bin"))
    quantity = QuantityInput(label=_("How many"))
    note = forms.CharField(label=_("Why"), max_length=200)
    on = forms.DateField(label=_("Scrapped on"), widget=DayInput)
    key = OnceKey()


class TransferForm(_FromBinForm):
    place = forms.ChoiceField(label=_("From bin"))
    to_bin = BinInput(label=_("To bin"))
    quantity = QuantityInput(label=_("How many"))
    on = forms.DateField(label=_("Moved on"), widget=DayInput)
    note = forms.CharField(label=_("Note"), max_length=200, required=False)
    key = OnceKey()


class CostingForm(forms.Form):
    method = forms.ChoiceField(
        label=_("Method"), choices=CostingChoice.Method, widget=forms.RadioSelect
    )
    reason = forms.CharField(
        label=_("Why"), max_length=200, help_text=_("For instance: as our accountant advised.")
    )
