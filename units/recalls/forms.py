from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from units.recalls.models import RecallCheck
from units.show.inputs import DayInput


class CheckForm(forms.ModelForm):
    class Meta:
        model = RecallCheck
        fields = ["outcome", "source", "checked_on", "note"]
        widgets = {
            "outcome": forms.RadioSelect,
            "checked_on": DayInput,
            "note": forms.Textarea(attrs={"rows": 3}),
        }
        help_texts = {
            "source": _("Whose list, as it stood on that day."),
            "note": _("If a recall fits: which one, and its remedy. Else what you compared."),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        outcome = self.fields["outcome"]
        outcome.choices = RecallCheck.Outcome.choices
        self.fields["source"].initial = _("the public list of recalls")
        self.fields["checked_on"].initial = timezone.localdate
