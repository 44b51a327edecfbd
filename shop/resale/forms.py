import uuid
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.resale.models import Grading
from shop.resale.services import Agreed, Bargain, Paid
from shop.till.models import Payment
from shop.work.forms.intake import PersonForm
from units.show.inputs import DayInput

PAID_BY = [("", _("nothing paid now")), *Payment.Method.choices]


def money_field(least: str = "0.01", **said) -> forms.DecimalField:
    return forms.DecimalField(min_value=Decimal(least), max_digits=12, decimal_places=2, **said)


def reason_field(label, **said) -> forms.CharField:
    return forms.CharField(label=label, max_length=200, **said)


class GradingForm(forms.ModelForm):
    made_in = forms.IntegerField(
        label=_("Year it was made"),
        required=False,
        help_text=_("Only where the plate or the serial tells. It counts for what it may fetch."),
    )

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
    price = money_field(label=_("Asking price, before tax"))
    floor = money_field("0", label=_("Least price"))
    reason = reason_field(
        _("Why below the least price"),
        required=False,
        help_text=_("Needed only when the price is below the least price."),
    )


class WaiverForm(forms.Form):
    reason = reason_field(_("Why you let it pass"))


class PaperForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    note = forms.CharField(
        label=_("What else the buyer is told"),
        max_length=400,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
    )


class HoldingForm(forms.Form):
    days = forms.IntegerField(
        label=_("Days that a bought machine is held"),
        min_value=0,
        max_value=365,
        help_text=_("The day on which it came is the first. 0 where local law asks for none."),
    )
    from_on = forms.DateField(label=_("From"), widget=DayInput)


class SaleForm(PersonForm):
    """The buyer (found or new), the day, what was agreed and the money."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    on = forms.DateField(label=_("Sold on"), widget=DayInput)
    price = money_field(
        label=_("Agreed price, before tax"),
        required=False,
        help_text=_("Leave it empty for the asking price."),
    )
    price_reason = reason_field(_("Why below the least price"), required=False)
    outlet = forms.CharField(
        label=_("Which outlet the buyer has"),
        max_length=60,
        required=False,
        help_text=_("Its shape, as the plug is written on the machine's page: “5-15”."),
    )
    told = forms.BooleanField(
        label=_(
            "It does not fit, and the buyer knows that a licensed electrician has to see to it"
        ),
        required=False,
    )
    method = forms.ChoiceField(label=_("Paid now by"), choices=PAID_BY, required=False)
    amount = money_field(
        label=_("Amount paid now"),
        required=False,
        help_text=_("Leave it empty when all of it is paid."),
    )
    reference = forms.CharField(label=_("Reference"), max_length=60, required=False)

    def __init__(self, *args, asks_outlet: bool = True, **kwargs):
        super().__init__(*args, **kwargs)
        if not asks_outlet:
            del self.fields["outlet"], self.fields["told"]

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("amount") and not cleaned.get("method"):
            self.add_error("method", _("Say how the amount was paid."))
        return cleaned

    def sale(self) -> dict:
        """What :func:`sell_machine` asks for besides the stay, the way and the moment."""
        said = self.cleaned_data
        return {
            "customer": self.person(),
            "on": said["on"],
            "key": said["key"],
            "agreed": Agreed(
                said["price"],
                said["price_reason"],
                said.get("outlet", ""),
                said.get("told", False),
            ),
            "paid": Paid(said["method"], said["amount"], said["reference"]),
        }


class GoodsSaleForm(PersonForm):
    """The buyer of some goods, how many of them, the price of one and the money."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    on = forms.DateField(label=_("Sold on"), widget=DayInput)
    quantity = forms.DecimalField(
        label=_("How much"), min_value=Decimal("0.001"), max_digits=12, decimal_places=3
    )
    price = money_field(label=_("Price for one, before tax"))
    method = forms.ChoiceField(label=_("Paid now by"), choices=PAID_BY, required=False)
    reference = forms.CharField(label=_("Reference"), max_length=60, required=False)

    def sale(self) -> dict:
        """What :func:`sell_goods` asks for besides the goods and the moment."""
        said = self.cleaned_data
        return {
            "customer": self.person(),
            "bargain": Bargain(said["quantity"], said["price"]),
            "paid": Paid(said["method"], None, said["reference"]),
            "on": said["on"],
            "key": said["key"],
        }


class ReservationForm(PersonForm):
    """For whom a machine is held, until when, and the deposit."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    until_on = forms.DateField(label=_("Held until"), widget=DayInput)
    amount = money_field(label=_("Deposit"))
    method = forms.ChoiceField(
        label=_("Paid by"), choices=Payment.Method.choices, widget=forms.RadioSelect
    )
    reference = forms.CharField(
        label=_("Reference"),
        max_length=60,
        required=False,
        help_text=_("Number of the check or slip. Never a card number."),
    )

    def reservation(self) -> dict:
        names = ("until_on", "amount", "method", "reference", "key")
        return {"customer": self.person()} | {name: self.cleaned_data[name] for name in names}


class ReleaseForm(forms.Form):
    keep = forms.TypedChoiceField(
        label=_("What becomes of the deposit"),
        choices=[("no", _("it goes back, the way it was paid")), ("yes", _("we keep it"))],
        coerce=lambda said: said == "yes",
        widget=forms.RadioSelect,
    )
    reason = reason_field(
        _("Why"),
        required=False,
        help_text=_(
            "Needed when it is kept. Whether it may be follows what was agreed, and local law."
        ),
    )


class DisposalForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    taker = forms.CharField(label=_("Who took it"), max_length=120)
    reason = reason_field(_("Why it leaves so"))
    on = forms.DateField(label=_("Gone on"), widget=DayInput)
