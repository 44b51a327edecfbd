from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from units.catalogue.models import Component, MachineModel, Maker

# What a form says when a field that nobody sees did not come back as it was sent.
SPOILT = "required", "invalid", "min_value"
AGAIN = _("This form came back spoilt. Open this page again and fill it in anew.")


def show_refusal(form: forms.Form, error: ValueError) -> None:
    """Put a service's sentence at the field that it blames, or on top of the form."""
    field = getattr(error, "field", None)
    form.add_error(field if field in form.fields else None, str(error))


class PartForm(forms.Form):
    maker = forms.ModelChoiceField(
        label=_("Maker"),
        queryset=Maker.objects.all(),
        required=False,
        empty_label=_("no machine’s maker numbers it"),
        help_text=_("Who gave it its number. None for a bearing or another standard part."),
    )
    number = forms.CharField(label=_("Part number"), max_length=60)
    name = forms.CharField(label=_("Name"), max_length=120)
    component = forms.ModelChoiceField(
        label=_("Component"),
        queryset=Component.objects.all(),
        help_text=_("The place in a machine where it goes."),
    )


class FitForm(forms.Form):
    model = forms.ModelChoiceField(
        label=_("Model"),
        queryset=MachineModel.objects.current().select_related("maker"),
    )
    quantity = forms.DecimalField(
        label=_("How many a machine needs"),
        min_value=Decimal("0.001"),
        max_digits=9,
        decimal_places=3,
        initial=1,
    )
    position = forms.CharField(
        label=_("Where"),
        max_length=80,
        required=False,
        help_text=_("For instance: left side, or both ends."),
    )
    evidence = forms.CharField(
        label=_("How we know"),
        max_length=200,
        help_text=_("For instance: the maker’s parts list, or tried on job J00012."),
    )
