from django import forms
from django.utils import timezone
from django.utils.translation import gettext as said
from django.utils.translation import gettext_lazy as _

from units.recalls.domain.reading import MOST_BYTES
from units.recalls.models import RecallCheck, RecallDecision
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


class DecisionForm(forms.Form):
    basis = forms.CharField(widget=forms.HiddenInput, max_length=64)
    outcome = forms.ChoiceField(
        label=_("Your decision"),
        choices=[
            (RecallDecision.Outcome.CONFIRMED, _("This machine is recalled")),
            (RecallDecision.Outcome.DISMISSED, _("This machine is not meant")),
        ],
        widget=forms.RadioSelect,
    )
    reason = forms.CharField(
        label=_("Why"),
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("What you compared on the plate, or who told you so, and when."),
    )


class RemedyForm(forms.Form):
    basis = forms.CharField(widget=forms.HiddenInput, max_length=64)
    reason = forms.CharField(
        label=_("What was done"),
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("The remedy that the notice names, by whom and when."),
    )
    advice = forms.CharField(
        label=_("Advice taken"),
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_(
            "Whether a product may be sold after its remedy depends on the notice and the law. "
            "Whom did you ask, and what was the answer?"
        ),
    )


class LoadForm(forms.Form):
    file = forms.FileField(
        label=_("List of recalls"),
        help_text=_("The JSON or CSV file, as it was downloaded from the agency's site."),
        error_messages={"required": _("Choose the file."), "empty": _("The file is empty.")},
    )

    def clean_file(self):
        file = self.cleaned_data["file"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError(
                said("The file has more than %(most)d MB. Load it in parts.")
                % {"most": MOST_BYTES // 1_000_000}
            )
        return file
