from django import forms
from django.utils.translation import gettext as _

from units.inspections.models import Inspection
from units.inspections.services import Entry


class EntryForm(forms.Form):
    """The envelope of what waited on a phone; a ``step`` names the position it answers."""

    id = forms.UUIDField()
    owner = forms.IntegerField()
    device_at = forms.DateTimeField()
    sent_at = forms.DateTimeField(required=False)
    inspection = forms.ModelChoiceField(Inspection.objects.with_identity())
    step = forms.IntegerField(required=False)

    def clean(self):
        data = super().clean()
        self.asked = None
        if "inspection" in data and data.get("step"):
            steps = data["inspection"].protocol.steps.select_related("component")
            self.asked = steps.filter(position=data["step"]).first()
            if self.asked is None:
                self.add_error("step", _("This step belongs to another protocol."))
        return data

    @property
    def entry(self) -> Entry:
        data = self.cleaned_data
        return Entry(
            key=data["id"],
            owner=data["owner"],
            inspection=data["inspection"],
            device_at=data["device_at"],
            sent_at=data["sent_at"],
        )
