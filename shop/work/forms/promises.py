import uuid
from decimal import Decimal

from django import forms
from django.contrib.auth import get_user_model
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shop.people.seats import TECHNICIAN
from shop.work.forms.recalls import ToldForm
from shop.work.models import CollectionNotice
from units.show.inputs import DayInput
from units.show.words import person


class PersonChoice(forms.ModelChoiceField):
    def label_from_instance(self, one):
        return person(one)


class PromiseForm(forms.Form):
    promised_on = forms.DateField(label=_("Promised for"), widget=DayInput)
    why = forms.CharField(label=_("Why it becomes later"), max_length=200, required=False)


def technicians():
    return get_user_model().objects.filter(groups__name=TECHNICIAN, is_active=True)


class AssignForm(forms.Form):
    technician = PersonChoice(
        get_user_model().objects.none(),
        label=_("Technician"),
        required=False,
        empty_label=_("nobody: whoever is free first"),
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["technician"].queryset = technicians()


class HoursForm(forms.Form):
    technician = PersonChoice(get_user_model().objects.none(), label=_("Technician"))
    hours = forms.DecimalField(
        label=_("Hours a week"), min_value=0, max_value=168, max_digits=5, decimal_places=2
    )
    from_on = forms.DateField(label=_("From"), initial=timezone.localdate, widget=DayInput)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["technician"].queryset = technicians()

    def hours_set(self) -> dict:
        said = self.cleaned_data
        minutes = int(said["hours"] * Decimal(60))
        return {
            "technician": said["technician"],
            "minutes_a_week": minutes,
            "from_on": said["from_on"],
        }


class CollectionForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    how = forms.ChoiceField(
        label=_("How"), choices=CollectionNotice.How.choices, widget=forms.RadioSelect
    )
    given_on = forms.DateField(label=_("Given on"), initial=timezone.localdate, widget=DayInput)
    note = forms.CharField(label=_("Note"), max_length=400, required=False)


class StorageForm(forms.Form):
    days_free = forms.IntegerField(
        label=_("Days after the notice"), min_value=0, max_value=3650, initial=30
    )
    per_day = forms.DecimalField(
        label=_("A day, before tax"), min_value=0, max_digits=9, decimal_places=2
    )
    from_on = forms.DateField(label=_("From"), initial=timezone.localdate, widget=DayInput)


class KeepForm(ToldForm):
    reason = forms.CharField(label=_("Why, and by which law or paper"), max_length=400)
    field_order = ("reason",)
