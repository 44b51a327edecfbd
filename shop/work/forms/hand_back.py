import uuid
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.till.models import Payment
from shop.work.models import CameAlong, WorkOrder
from shop.work.services.hand_back import Leaving, Money

LATER = ("", _("nothing now"))


class HandBackForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    taken_by = forms.CharField(label=_("Who takes the machine"), max_length=120)
    returned = forms.MultipleChoiceField(
        label=_("Goes back with it"), widget=forms.CheckboxSelectMultiple, required=False
    )
    kept_why = forms.CharField(label=_("Why something stays here"), max_length=200, required=False)
    notice_signed = forms.BooleanField(label=_("The notice is signed"), required=False)
    fee = forms.DecimalField(
        label=_("Diagnosis fee, before tax"),
        min_value=0,
        max_digits=9,
        decimal_places=2,
        required=False,
        help_text=_("As it was quoted: on the estimate, or within the limit given on arrival."),
    )
    fee_agreed = forms.CharField(
        label=_("Who agreed to a fee beyond the quote"),
        max_length=200,
        required=False,
        help_text=_("Who and how, or why nobody was asked. Empty: the fee is as quoted."),
    )
    recalls_told = forms.BooleanField(
        label=_("The customer was told of every open recall"),
        required=False,
        help_text=_("Those of this machine stand above; without one there is nothing to tell."),
    )
    storage_waived = forms.CharField(
        label=_("Storage is not charged, because"), max_length=200, required=False
    )
    method = forms.ChoiceField(
        label=_("Pays"),
        choices=[*Payment.Method.choices, LATER],
        widget=forms.RadioSelect,
        required=False,
    )
    amount = forms.DecimalField(
        label=_("Amount"),
        min_value=Decimal("0.01"),
        max_digits=11,
        decimal_places=2,
        required=False,
        help_text=_("Empty: the whole invoice."),
    )
    reference = forms.CharField(
        label=_("Reference"),
        max_length=60,
        required=False,
        help_text=_("Number of the check or slip. Never a card number."),
    )

    def __init__(self, *args, job: WorkOrder, things, storage, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["taken_by"].initial = str(job.owner)
        names = dict(CameAlong.Thing.choices)
        self.fields["returned"].choices = [(one.thing, names[one.thing]) for one in things]
        unwanted = [] if things else ["returned", "kept_why"]
        unwanted += [] if hasattr(job, "notice") else ["notice_signed"]
        if job.is_free or job.outcome == WorkOrder.Outcome.REPAIRED:
            unwanted += ["fee", "fee_agreed"]
        unwanted += [] if storage else ["storage_waived"]
        unwanted += [] if job.unit_id else ["recalls_told"]
        for name in unwanted:
            del self.fields[name]

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("amount") and not cleaned.get("method"):
            self.add_error("method", _("Say how the amount is paid, or leave the amount empty."))
        return cleaned

    def leaving(self) -> Leaving:
        said = self.cleaned_data
        money = None
        if said["method"]:
            money = Money(said["method"], said["key"], said["amount"], said["reference"])
        return Leaving(
            taken_by=said["taken_by"],
            returned=said.get("returned", []),
            kept_why=said.get("kept_why", ""),
            notice_signed=said.get("notice_signed", False),
            fee=said.get("fee") or Decimal(0),
            fee_agreed=said.get("fee_agreed", ""),
            recalls_told=said.get("recalls_told", False),
            storage_waived=said.get("storage_waived", ""),
            money=money,
        )
