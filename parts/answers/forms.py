from django import forms
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer, FreshnessRule
from units.show.inputs import DayInput


class AnswerForm(forms.Form):
    """What is asked in one call, in the order in which it is asked."""

    status = forms.ChoiceField(
        label=_("Are parts for this model still supported?"),
        choices=Answer.Status,
        widget=forms.RadioSelect,
    )
    until = forms.DateField(
        label=_("Back-ordered until"),
        required=False,
        widget=DayInput,
        help_text=_("Only for a back-order. Leave it empty when they named no day."),
    )
    warranty = forms.ChoiceField(
        label=_("Does the warranty pass to a second owner?"),
        choices=Answer.Warranty,
        initial=Answer.Warranty.UNKNOWN,
        widget=forms.RadioSelect,
    )
    given_by = forms.CharField(
        label=_("Who said so?"),
        max_length=120,
        help_text=_("A name, or the desk that answered."),
    )
    channel = forms.ChoiceField(
        label=_("How did it come?"),
        choices=FreshnessRule.Channel,
        initial=FreshnessRule.Channel.PHONE,
        widget=forms.RadioSelect,
    )
    given_on = forms.DateField(label=_("On which day?"), widget=DayInput)
    effective_on = forms.DateField(
        label=_("Holds from"),
        required=False,
        widget=DayInput,
        help_text=_("Only for a published notice that takes effect on a later day."),
    )
    note = forms.CharField(
        label=_("Note"), max_length=400, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )


class WithdrawForm(forms.Form):
    reason = forms.CharField(label=_("Why was it wrong?"), max_length=400)
