import uuid
from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.people.models import Customer
from shop.work.models import CameAlong
from shop.work.services.intake import Errand, Machine, Person
from units.files.forms import PictureField, PicturesField
from units.plates.forms import KindForm, PhotoSentForm
from units.show.inputs import DayInput


class MachineForm(PhotoSentForm, KindForm):
    """The plate and what it says: shared by a machine for repair and one we buy."""

    PHOTO = "plate_photo"
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    plate_photo = PictureField(label=_("Photo of the serial plate"), required=False)
    serial = forms.CharField(
        label=_("Serial number"),
        max_length=60,
        required=False,
        strip=False,
        help_text=_("As it stands on the plate. Leave empty only if nobody can read it."),
    )
    came_along = forms.MultipleChoiceField(
        label=_("What came along"),
        choices=CameAlong.Thing.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    arrival_photos = PicturesField(label=_("Photos of its condition"), required=False)

    TYPE_AHEAD = {"maker": "makers", "number": "models"}

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, list_id in self.TYPE_AHEAD.items():
            self.fields[name].widget.attrs |= {"list": list_id, "autocomplete": "off"}
        self.fields["serial"].asked = True  # its help says when it may stay empty
        self.fields["serial"].widget.attrs |= {
            "autocapitalize": "characters",
            "spellcheck": "false",
        }

    def machine(self) -> Machine:
        said = self.cleaned_data
        return Machine(
            maker=said["maker"],
            number=said["number"],
            serial=said["serial"],
            kind=said["kind"],
            plate_photo=said["plate_photo"],
            reading=said["reading"],
            arrival_photos=said["arrival_photos"] or (),
        )


class PersonForm(forms.Form):
    """A customer chosen from the matches of a search, or somebody new."""

    who = forms.CharField(
        label=_("Customer"),
        required=False,
        max_length=120,
        help_text=_("Part of the name, or any digits of the telephone number."),
    )
    customer = forms.ModelChoiceField(
        Customer.objects.all(), required=False, widget=forms.HiddenInput
    )
    new_name = forms.CharField(label=_("Name"), required=False, max_length=120)
    new_phone = forms.CharField(label=_("Telephone"), required=False, max_length=40)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["who"].widget.attrs |= {"autocomplete": "off", "type": "search"}
        self.fields["who"].asked = True  # chosen or new, but somebody

    def clean(self):
        cleaned = super().clean()
        if (
            not cleaned.get("customer")
            and not cleaned.get("new_name")
            and "customer" not in self.errors
        ):
            self.add_error("who", _("Choose a customer below, or enter the name of a new one."))
        return cleaned

    def matches(self):
        """Customers to choose from: who was chosen, else who fits what was typed."""
        chosen = self["customer"].value()
        if chosen and str(chosen).isdigit():
            return Customer.objects.filter(pk=chosen)
        text = (self["who"].value() or "").strip()
        return Customer.objects.matching(text)[:8] if text else Customer.objects.none()

    def person(self) -> Person:
        said = self.cleaned_data
        if said["customer"]:
            return Person(known=said["customer"])
        return Person(name=said["new_name"], phone=said["new_phone"])


class IntakeForm(PersonForm, MachineForm):
    complaint = forms.CharField(
        label=_("Complaint"),
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("In the customer's own words; what the display shows, when it happens."),
    )
    arrival_note = forms.CharField(
        label=_("Condition on arrival"), widget=forms.Textarea(attrs={"rows": 2}), required=False
    )
    spend_limit = forms.DecimalField(
        label=_("May be spent before we call, before tax"),
        min_value=Decimal(0),
        max_digits=9,
        decimal_places=2,
        required=False,
    )

    promised_on = forms.DateField(
        label=_("Promised for"),
        required=False,
        widget=DayInput,
        help_text=_("Only a day that the customer was told."),
    )

    def errand(self) -> Errand:
        said = self.cleaned_data
        return Errand(
            complaint=said["complaint"],
            came_along=said["came_along"],
            arrival_note=said["arrival_note"],
            spend_limit=said["spend_limit"],
            promised_on=said["promised_on"],
        )


class PurchaseForm(PersonForm, MachineForm):
    price = forms.DecimalField(
        label=_("Price paid"), min_value=Decimal(0), max_digits=9, decimal_places=2
    )
