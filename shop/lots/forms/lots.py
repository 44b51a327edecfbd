import uuid
from decimal import Decimal

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shop.lots.models import LotMatter
from shop.lots.services import Answer, Offered
from shop.till.forms import day_field, money_field

YES_NO = [("", _("not known")), ("yes", _("yes")), ("no", _("no"))]


def yes_or_no(label) -> forms.TypedChoiceField:
    return forms.TypedChoiceField(
        label=label,
        choices=YES_NO,
        required=False,
        coerce=lambda said: said == "yes",
        empty_value=None,
    )


class ListForm(forms.Form):
    """A seller's list, as a file or pasted."""

    file = forms.FileField(
        label=_("The list as a file"),
        required=False,
        help_text=_("An .xlsx or a .csv file as the seller made it."),
        error_messages={"empty": _("This file is empty. Send the list itself.")},
        widget=forms.FileInput(attrs={"accept": ".xlsx,.csv,.txt"}),
    )
    pasted = forms.CharField(
        label=_("Or paste it"),
        required=False,
        max_length=200_000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text=_("One machine a line, such as “3 treadmills T-310”."),
    )


class LotForm(ListForm):
    """A new lot: who sells, what he says of the whole, and his list if there is one."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    seller = forms.CharField(label=_("Seller"), max_length=120)
    phone = forms.CharField(label=_("Telephone"), max_length=40, required=False)
    title = forms.CharField(label=_("Title"), max_length=120, required=False)
    asked = money_field(
        label=_("Asked price"),
        required=False,
        min_value=Decimal(0),
        help_text=_("Leave it empty where the seller asks for our price."),
    )
    offered_on = day_field(label=_("Offered on"))
    remove_by = day_field(label=_("To be removed by"), required=False, initial=None)
    kilometres = forms.IntegerField(
        label=_("Kilometres one way"), min_value=0, max_value=5000, required=False
    )
    steps = forms.IntegerField(
        label=_("Steps to the truck"), min_value=0, max_value=2000, required=False
    )
    has_power = yes_or_no(_("Has it power on site?"))

    field_order = [
        "key", "seller", "phone", "file", "pasted", "title", "asked", "offered_on", "remove_by",
        "kilometres", "steps", "has_power",
    ]  # fmt: skip

    def offered(self) -> Offered:
        said = self.cleaned_data
        names = "asked", "offered_on", "remove_by", "kilometres", "steps", "has_power"
        return Offered(said["title"] or said["seller"], **{name: said[name] for name in names})


class StepForm(forms.Form):
    """A step of a lot that only has a day."""

    on = day_field(label=_("On"))
    note = forms.CharField(label=_("Note"), max_length=300, required=False)

    def clean_on(self):
        on = self.cleaned_data["on"]
        if on > timezone.localdate():
            raise forms.ValidationError(_("This day is still to come. Enter when it was."))
        return on


class AgreeForm(StepForm):
    price = money_field(label=_("Agreed price"), min_value=Decimal(0))
    field_order = ["price", "on", "note"]


class WalkAwayForm(forms.Form):
    why = forms.CharField(label=_("Why we walk away"), max_length=300)


class MatterForm(forms.Form):
    """One of the four questions before payment."""

    matter = forms.ChoiceField(label=_("Question"), choices=LotMatter.Matter.choices)
    outcome = forms.ChoiceField(label=_("Answer"), choices=LotMatter.Outcome.choices)
    given_by = forms.CharField(label=_("Said by"), max_length=120)
    held = money_field(
        label=_("Held back"),
        required=False,
        min_value=Decimal(0),
        help_text=_("Only where money is held back until it is settled."),
    )
    note = forms.CharField(
        label=_("What was shown or said"),
        max_length=300,
        required=False,
        help_text=_("The paper, its date, the person asked."),
    )

    def answer(self) -> Answer:
        said = dict(self.cleaned_data)
        said["held"] = said["held"] or Decimal(0)
        return Answer(**said)
