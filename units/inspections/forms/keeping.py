"""What is asked before a reading is kept with a machine, or counts no more."""

import uuid

from django import forms
from django.utils.translation import gettext_lazy as _


class KeepForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    note = forms.CharField(
        label=_("Note"),
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    is_baseline = forms.BooleanField(
        label=_("Taken on a sound machine: compare with it later"), required=False
    )

    def __init__(self, *args, for_baseline: bool, **kwargs):
        super().__init__(*args, **kwargs)
        if not for_baseline:
            del self.fields["is_baseline"]


class WithdrawReadingForm(forms.Form):
    reason = forms.CharField(label=_("Why does it not count?"), max_length=200)
