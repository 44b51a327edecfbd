from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.answers.models import FreshnessRule
from parts.buying.forms.fields import SupplierInput, UnitCostInput, known_part
from parts.buying.models import ExchangeStep
from parts.stock.forms.fields import OnceKey
from units.catalogue.models import Component, MachineModel
from units.show.inputs import DayInput

TOLD = FreshnessRule.Channel
HOW = [(one.value, one.label) for one in (TOLD.PHONE, TOLD.MAIL, TOLD.LISTING)]


class OfferForm(forms.Form):
    """What a workshop asks: for a part by its number, or for a component of a model."""

    supplier = SupplierInput(label=gettext_lazy("Workshop"))
    number = forms.CharField(
        label=gettext_lazy("Part number"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("Or choose a model and a component below."),
    )
    maker = forms.CharField(
        label=gettext_lazy("Maker who numbers it"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Only when several makers have this number."),
    )
    model = forms.ModelChoiceField(
        label=gettext_lazy("Model"),
        queryset=MachineModel.objects.current().select_related("maker"),
        required=False,
    )
    component = forms.ModelChoiceField(
        label=gettext_lazy("Component"), queryset=Component.objects.all(), required=False
    )
    cost = UnitCostInput(label=gettext_lazy("Cost"))
    lead_days = forms.IntegerField(
        label=gettext_lazy("Days to come"), min_value=0, max_value=730, required=False
    )
    core_charge = forms.DecimalField(
        label=gettext_lazy("Charge for the old one"),
        min_value=Decimal(0),
        max_digits=10,
        decimal_places=2,
        initial=Decimal(0),
        help_text=gettext_lazy("What they keep until the old one is back with them."),
    )
    core_days = forms.IntegerField(
        label=gettext_lazy("Days to send the old one back"),
        min_value=0,
        max_value=730,
        required=False,
    )
    given_by = forms.CharField(label=gettext_lazy("Who said so"), max_length=120)
    channel = forms.ChoiceField(label=gettext_lazy("How"), choices=HOW)
    given_on = forms.DateField(label=gettext_lazy("Said on"), widget=DayInput)

    def clean(self):
        cleaned = super().clean()
        if "number" not in cleaned:
            return cleaned
        number, model = cleaned.pop("number"), cleaned.get("model")
        if bool(number) == bool(model):
            self.add_error("number", _("Name a part, or choose a model: one of the two."))
            return cleaned
        if number:
            self._find(cleaned, number)
        elif not cleaned.get("component"):
            self.add_error("component", _("Say which component they exchange."))
        return cleaned

    def _find(self, cleaned, number) -> None:
        try:
            cleaned["part"] = known_part(number, cleaned.get("maker", ""))
        except ValidationError as error:
            self.add_error("maker", error)
            return
        if cleaned["part"] is None:
            self.add_error("number", _("No part has this number. Add the part first."))
        cleaned["component"] = None

    def said(self) -> dict:
        """What the service takes."""
        return {name: value for name, value in self.cleaned_data.items() if name != "maker"}


class ExchangeForm(forms.Form):
    document = forms.CharField(
        label=gettext_lazy("Who waits for it"),
        max_length=40,
        required=False,
        help_text=gettext_lazy("A job’s number, or nothing for the shelf."),
    )
    ordered_on = forms.DateField(label=gettext_lazy("Ordered on"), widget=DayInput)
    key = OnceKey()


class StepForm(forms.Form):
    step = forms.ChoiceField(
        label=gettext_lazy("What happened"), choices=ExchangeStep.Step, widget=forms.RadioSelect
    )
    done_on = forms.DateField(label=gettext_lazy("On"), widget=DayInput)
