from django import forms
from django.utils.translation import gettext_lazy as _

from parts.answers.models import Answer, FreshnessRule
from parts.fits.models import Part
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Component, MachineModel
from units.files.forms import PictureField
from units.show.inputs import DayInput

Channel = FreshnessRule.Channel
SPOKEN = [(one.value, one.label) for one in (Channel.PHONE, Channel.MAIL, Channel.NOTICE)]
LISTED = [*SPOKEN, (Channel.LISTING.value, Channel.LISTING.label)]


class AnswerForm(forms.Form):
    """What is asked in one call, in the order in which it is asked."""

    part = forms.ModelChoiceField(
        label=_("For one part only?"),
        queryset=Part.objects.none(),
        required=False,
        empty_label=_("no, for more than one part"),
    )
    component = forms.ModelChoiceField(
        label=_("For one component only?"),
        queryset=Component.objects.none(),
        required=False,
        empty_label=_("no, for the whole model"),
    )
    status = forms.ChoiceField(
        label=_("Are parts still supported?"),
        choices=Answer.Status,
        widget=forms.RadioSelect,
    )
    until = forms.DateField(
        label=_("Back-ordered until"),
        required=False,
        widget=DayInput,
        help_text=_("Only for a back-order. Leave it empty when they named no day."),
    )
    replaced_by = forms.CharField(
        label=_("The new number"),
        required=False,
        max_length=60,
        help_text=_("Only when one part was replaced by another number."),
    )
    warranty = forms.ChoiceField(
        label=_("Does the warranty pass to a second owner?"),
        choices=Answer.Warranty,
        initial=Answer.Warranty.UNKNOWN,
        widget=forms.RadioSelect,
    )
    route = forms.ChoiceField(
        label=_("Who would supply it?"),
        choices=Answer.Route,
        initial=Answer.Route.MAKER,
        required=False,
    )
    party = forms.CharField(
        label=_("Which supplier or workshop?"),
        max_length=120,
        required=False,
        help_text=_("Leave it empty for the maker itself."),
    )
    cost = forms.DecimalField(
        label=_("Cost for one"), required=False, min_value=0, max_digits=12, decimal_places=2
    )
    lead_days = forms.IntegerField(
        label=_("Days to come"), required=False, min_value=0, max_value=3650
    )
    dealer_only = forms.BooleanField(label=_("Only through a dealer’s account"), required=False)
    given_by = forms.CharField(
        label=_("Who said so?"),
        max_length=120,
        help_text=_("A name, or the desk that answered."),
    )
    channel = forms.ChoiceField(
        label=_("How did it come?"),
        choices=LISTED,
        initial=Channel.PHONE,
        widget=forms.RadioSelect,
    )
    given_on = forms.DateField(label=_("On which day?"), widget=DayInput)
    effective_on = forms.DateField(
        label=_("Holds from"),
        required=False,
        widget=DayInput,
        help_text=_("Only for a published notice that takes effect on a later day."),
    )
    picture = PictureField(label=_("Picture of the letter"), required=False)
    note = forms.CharField(
        label=_("Note"), max_length=400, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(self, *args, model: MachineModel, parts=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.model = model
        self.fields["component"].queryset = Component.objects.filter(kinds__kind=model.kind_id)
        self.fields["part"].queryset = Part.objects.filter(pk__in=[part.pk for part in parts])

    @property
    def narrow(self) -> bool:
        """Whether something was filled in, or is wrong, where an answer is made narrower."""
        return self._touched("part", "component", "replaced_by")

    @property
    def priced(self) -> bool:
        return self._touched("party", "cost", "lead_days", "dealer_only")

    def _touched(self, *names: str) -> bool:
        return any(self[name].errors or self[name].value() for name in names)

    def clean_replaced_by(self) -> Part | None:
        number = self.cleaned_data["replaced_by"]
        if not match_key(number):
            return None
        known = Part.objects.filter(key=match_key(number))
        part = known.filter(maker=self.model.maker_id).first() or known.first()
        if part is None:
            raise forms.ValidationError(
                _("No part has the number “%(number)s” yet. Add it to the parts first."),
                params={"number": number},
            )
        return part

    def clean_route(self) -> str:
        return self.cleaned_data["route"] or Answer.Route.MAKER

    def said(self) -> dict:
        """The answer's fields for the service; the subject is the narrowest that was named."""
        said = dict(self.cleaned_data)
        if said["part"]:
            said["component"] = None
        else:
            said |= {"model": self.model, "part": None}
        return said


class WithdrawForm(forms.Form):
    reason = forms.CharField(label=_("Why was it wrong?"), max_length=400)


class FreshnessForm(forms.Form):
    """For how long answers of one channel count; empty is for ever."""

    days = forms.IntegerField(
        label=_("Days it counts"), required=False, min_value=0, max_value=3650
    )
    back_order_days = forms.IntegerField(
        label=_("Days a back-order without a day counts"),
        required=False,
        min_value=0,
        max_value=3650,
    )
