"""What one types of numbers that became others, sister models and designations."""

from django import forms
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Component, MachineModel, Maker
from units.show.inputs import DayInput


class SupersedeForm(forms.Form):
    number = forms.CharField(
        label=_("Later number"),
        max_length=60,
        help_text=_("A number that nobody had met is added as a part of the same name."),
    )
    maker = forms.ModelChoiceField(
        label=_("Maker"),
        queryset=Maker.objects.all(),
        required=False,
        empty_label=_("no machine’s maker numbers it"),
    )
    on = forms.DateField(label=_("Since"), widget=DayInput)
    evidence = forms.CharField(
        label=_("How we know"),
        max_length=200,
        help_text=_("For instance: the maker’s notice of March, or printed on the bag."),
    )


class DesignationForm(forms.Form):
    designation = forms.CharField(
        label=_("Designation"),
        max_length=60,
        required=False,
        help_text=_(
            "As it is printed: a belt 8PJ1244 or 490J8, a bearing 6203-2RS/C3, a screw "
            "M8x20 cap, a cord 5-15P C13 14 AWG. Empty when it is no standard part."
        ),
    )


class SisterForm(forms.Form):
    """``model`` is the one whose sister is told: its components are offered."""

    other = forms.ModelChoiceField(
        label=_("Shares its parts with"),
        queryset=MachineModel.objects.current().select_related("maker"),
    )
    evidence = forms.CharField(
        label=_("How we know"),
        max_length=200,
        help_text=_("For instance: same parts list under two labels, compared side by side."),
    )
    components = forms.ModelMultipleChoiceField(
        label=_("Only these components"),
        queryset=Component.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("None ticked: they share everything."),
    )

    def __init__(self, *args, model: MachineModel, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["other"].queryset = self.fields["other"].queryset.exclude(pk=model.pk)
        own = Component.objects.filter(kinds__kind=model.kind_id)
        self.fields["components"].queryset = own.order_by("kinds__position")


class WithdrawForm(forms.Form):
    reason = forms.CharField(label=_("Why was it wrong?"), max_length=400)
