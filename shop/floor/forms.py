import uuid
from decimal import Decimal

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Spot
from shop.till.forms import day_field, money_field
from shop.till.models import SellerPayment


class MoveForm(forms.Form):
    """The spot that was tapped. Unlike most keys this one is made anew with every page."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    spot = forms.ModelChoiceField(
        queryset=Spot.objects.filter(in_use=True),
        error_messages={
            "required": _("Tap the spot where it stands now."),
            "invalid_choice": _("That spot is no longer in use. Tap another."),
        },
    )


class PastDayForm(forms.Form):
    """What happened on a day that has come."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    on = day_field(label=_("On"))

    def clean_on(self):
        on = self.cleaned_data["on"]
        if on > timezone.localdate():
            raise forms.ValidationError(_("This day is still to come. Enter when it was."))
        return on


class PutForm(forms.Form):
    spot = forms.ModelChoiceField(
        queryset=Spot.objects.filter(in_use=True), label=_("Where they stand")
    )


class LostForm(PastDayForm):
    """So much of some goods is not there any more."""

    quantity = forms.DecimalField(
        label=_("How much"), min_value=Decimal("0.001"), max_digits=12, decimal_places=3
    )
    note = forms.CharField(label=_("What became of them"), max_length=200)


class OwedForm(PastDayForm):
    """How a seller is paid for what we bought."""

    amount = money_field(label=_("Amount"), min_value=Decimal("0.01"))
    method = forms.ChoiceField(
        label=_("By"), choices=SellerPayment.Method.choices, widget=forms.RadioSelect
    )
    reference = forms.CharField(label=_("Reference"), max_length=60, required=False)


class SpotForm(forms.ModelForm):
    class Meta:
        model = Spot
        fields = ["name", "sort"]
        help_texts = {"name": _("As it is written there: “Bay 3”, “White truck”.")}

    def _get_validation_exclusions(self):
        # A name that was in use before may be used again: the service opens that one anew.
        return super()._get_validation_exclusions() | {"name"}
