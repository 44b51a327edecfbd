from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.lots.domain.lists.figures import MOST_HOURS
from shop.lots.forms.lots import yes_or_no
from shop.lots.models import LotMachine
from shop.lots.services import Look, Scan
from shop.till.forms import money_field
from units.catalogue.forms import SerialField
from units.files.forms import PictureField


class LookForm(forms.Form):
    """What was found of one machine on the seller's floor."""

    ran = forms.ChoiceField(
        label=_("Does it run?"), choices=LotMachine.Ran.choices, widget=forms.RadioSelect
    )
    why_not = forms.CharField(
        label=_("Why not"),
        max_length=200,
        required=False,
        help_text=_("No power, no cord, in pieces, dead console …"),
    )
    serial = SerialField(help_text=_("As it stands on the plate."))
    hours = forms.IntegerField(
        label=_("Hours on the clock"), min_value=0, max_value=MOST_HOURS, required=False
    )
    photo = PictureField(label=_("Photo of the serial plate"), required=False)

    def look(self) -> Look:
        return Look(**self.cleaned_data)


class ScanForm(forms.Form):
    """How one machine was loaded."""

    seen_serial = SerialField(label=_("Serial number seen"))
    fate = forms.ChoiceField(
        label=_("At the truck"), choices=LotMachine.Fate.choices, widget=forms.RadioSelect
    )
    adjusted = money_field(label=_("Off the price"), required=False, min_value=Decimal(0))
    volts = forms.IntegerField(
        label=_("Supply, volts"), min_value=1, max_value=1000, required=False
    )
    plug = forms.CharField(label=_("Plug"), max_length=20, required=False)
    console_locked = yes_or_no(_("Console locked or bound to an account?"))
    pin_missing = yes_or_no(_("A pin missing?"))
    note = forms.CharField(label=_("What was seen"), max_length=200, required=False)

    def scan(self) -> Scan:
        said = dict(self.cleaned_data)
        said["adjusted"] = said["adjusted"] or Decimal(0)
        return Scan(**said)
