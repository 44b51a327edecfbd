import uuid

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shop.work.models import CameAlong, WarrantyTerm
from shop.work.services.warranty import CameBack
from units.show.inputs import DayInput


class CameBackForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    complaint = forms.CharField(
        label=_("What the customer says now"), widget=forms.Textarea(attrs={"rows": 3})
    )
    came_along = forms.MultipleChoiceField(
        label=_("What came along"),
        choices=CameAlong.Thing.choices,
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )
    arrival_note = forms.CharField(
        label=_("Condition on arrival"), widget=forms.Textarea(attrs={"rows": 2}), required=False
    )
    goodwill = forms.CharField(
        label=_("Why we stand for it all the same"),
        max_length=200,
        required=False,
        help_text=_("Only where our warranty is over."),
    )

    def __init__(self, *args, owner: bool, **kwargs):
        super().__init__(*args, **kwargs)
        if not owner:
            del self.fields["goodwill"]

    def back(self) -> CameBack:
        said = dict(self.cleaned_data)
        said.pop("key")
        return CameBack(**said)


class TermForm(forms.Form):
    work = forms.ChoiceField(label=_("Work"), choices=WarrantyTerm.Work.choices)
    parts_days = forms.IntegerField(label=_("Days for the part"), min_value=0, max_value=3650)
    labour_days = forms.IntegerField(label=_("Days for the labour"), min_value=0, max_value=3650)
    from_on = forms.DateField(label=_("From"), initial=timezone.localdate, widget=DayInput)
