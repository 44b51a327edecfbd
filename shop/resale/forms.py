import uuid
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.resale.models import Grading
from shop.till.models import Payment
from shop.work.forms.intake import PersonForm
from units.show.inputs import DayInput


class GradingForm(forms.ModelForm):
    class Meta:
        model = Grading
        fields = ["grade", "cleaned", "safety_key_present"]
        widgets = {"grade": forms.RadioSelect}

    def __init__(self, *args, has_safety_key: bool, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["grade"].choices = Grading.Grade.choices
        if not has_safety_key:
            del self.fields["safety_key_present"]


class PriceForm(forms.Form):
    price = forms.DecimalField(
        label=_("Asking price, before tax"),
        min_value=Decimal("0.01"),
        max_digits=12,
        decimal_places=2,
    )
    floor = forms.DecimalField(
        label=_("Least price"), min_value=Decimal(0), max_digits=12, decimal_places=2
    )
    reason = forms.CharField(
        label=_("Why below the least price"),
        max_length=200,
        required=False,
        help_text=_("Needed only when the price is below the least price."),
    )


class SaleForm(PersonForm):
    """The buyer (found or new), the day and the money."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    on = forms.DateField(label=_("Sold on"), widget=DayInput)
    method = forms.ChoiceField(
        label=_("Paid now by"),
        choices=[("", _("nothing paid now")), *Payment.Method.choices],
        required=False,
    )
    amount = forms.DecimalField(
        label=_("Amount paid now"),
        min_value=Decimal("0.01"),
        max_digits=12,
        decimal_places=2,
        required=False,
        help_text=_("Leave it empty when all of it is paid."),
    )
    reference = forms.CharField(label=_("Reference"), max_length=60, required=False)

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("amount") and not cleaned.get("method"):
            self.add_error("method", _("Say how the amount was paid."))
        return cleaned

    def sale(self) -> dict:
        """What :func:`sell_machine` asks for besides the stay, the person and the moment."""
        names = ("on", "method", "amount", "reference", "key")
        return {"customer": self.person()} | {name: self.cleaned_data[name] for name in names}
