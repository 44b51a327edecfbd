import uuid
from decimal import Decimal

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shop.till.models import BILLED, Payment
from units.show.inputs import DayInput


def day_field(**kwargs) -> forms.DateField:
    """A day, with the day of today to begin with."""
    return forms.DateField(**{"initial": timezone.localdate, "widget": DayInput} | kwargs)


def money_field(**kwargs) -> forms.DecimalField:
    return forms.DecimalField(max_digits=11, decimal_places=2, **kwargs)


class PaymentForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    amount = money_field(label=_("Amount"), min_value=Decimal("0.01"))
    method = forms.ChoiceField(
        label=_("Paid by"), choices=Payment.Method.choices, widget=forms.RadioSelect
    )
    on = day_field(label=_("Paid on"))
    reference = forms.CharField(
        label=_("Reference"),
        max_length=60,
        required=False,
        help_text=_("Number of the check or slip. Never a card number."),
    )

    def clean_on(self):
        on = self.cleaned_data["on"]
        if on > timezone.localdate():
            raise forms.ValidationError(_("This day is still to come. Enter when it was paid."))
        return on


class ReversalForm(forms.Form):
    reason = forms.CharField(
        label=_("Why"), max_length=40, help_text=_("It stands on both papers: typed twice.")
    )


class TaxRateForm(forms.Form):
    jurisdiction = forms.CharField(
        label=_("Who takes the tax"),
        max_length=60,
        help_text=_("State, county, town or district: each is a rate of its own."),
    )
    line_classes = forms.MultipleChoiceField(
        label=_("On"), choices=BILLED, widget=forms.CheckboxSelectMultiple
    )
    percent = forms.DecimalField(
        label=_("Per cent"), min_value=0, max_value=100, max_digits=7, decimal_places=4
    )
    from_on = day_field(label=_("From"))
    until_on = day_field(label=_("Through"), required=False, initial=None)


class LabourRateForm(forms.Form):
    price_per_hour = money_field(label=_("Price for an hour"), min_value=0)
    cost_per_hour = money_field(
        label=_("Cost of an hour"),
        min_value=0,
        help_text=_("What an hour of work costs us; it goes into our own machines at this cost."),
    )
    from_on = day_field(label=_("From"))


class MarkUpForm(forms.Form):
    cost_from = money_field(
        label=_("Parts that cost at least"),
        min_value=0,
        help_text=_("One mark-up begins at 0; others for dearer parts may follow."),
    )
    factor = forms.DecimalField(
        label=_("Sell at cost times"),
        min_value=Decimal("0.0001"),
        max_digits=8,
        decimal_places=4,
        help_text=_("1.5 sells a part that cost 20 at 30."),
    )
    from_on = day_field(label=_("From"))
