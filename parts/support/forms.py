from datetime import date

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from units.show.inputs import DayInput


class DayForm(forms.Form):
    """As of which day something is asked, and by which of its two dates an answer counts."""

    on = forms.DateField(label=_("On which day?"), required=False, widget=DayInput)
    entered = forms.BooleanField(label=_("Only what we had written down by then"), required=False)

    def clean_on(self):
        on = self.cleaned_data["on"]
        if on and on > timezone.localdate():
            raise forms.ValidationError(
                _("That day has not come yet. Ask about today or an earlier day.")
            )
        return on

    def day(self, today: date) -> date:
        return (self.is_valid() and self.cleaned_data["on"]) or today

    @property
    def is_entered(self) -> bool:
        return self.is_valid() and self.cleaned_data["entered"]
