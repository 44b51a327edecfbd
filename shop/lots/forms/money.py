import uuid

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.lots.forms.lots import StepForm
from shop.till.forms import day_field, money_field
from shop.till.models import HoldbackEnd, SellerPayment
from shop.till.services import Ending, Paying


class PayForm(StepForm):
    """How money goes to a seller, or comes back from him."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    method = forms.ChoiceField(label=_("By"), choices=SellerPayment.Method.choices)
    reference = forms.CharField(
        label=_("Reference"),
        max_length=60,
        required=False,
        help_text=_("Number of the check or slip."),
    )
    field_order = ["key", "method", "on", "reference", "note"]

    def payment(self) -> dict:
        said = dict(self.cleaned_data)
        return {"paying": Paying(said.pop("method"), said.pop("reference"))} | said


class SettleForm(PayForm):
    note = None


class HeldForm(SettleForm):
    """What becomes of money held back, or of a part of it."""

    how = forms.ChoiceField(label=_("What becomes of it"), choices=HoldbackEnd.How.choices)
    amount = money_field(label=_("How much"))
    reason = forms.CharField(
        label=_("Why, and who agreed"),
        max_length=200,
        help_text=_("The paper, its date, the person asked."),
    )
    field_order = ["key", "how", "amount", "reason", "on", "method", "reference"]

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["method"].label = _("If it is paid out: by")

    def settlement(self) -> dict:
        said = self.payment()
        names = "how", "amount", "reason"
        how, amount, reason = (said.pop(name) for name in names)
        return {"ending": Ending(how, amount, reason, said.pop("paying"))} | said


class RemovalForm(forms.Form):
    remove_by = day_field(label=_("To be removed by"), initial=None)
    note = forms.CharField(label=_("Who said so, and why"), max_length=200)
