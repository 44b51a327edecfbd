import uuid

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.floor.models import Spot


class MoveForm(forms.Form):
    """The spot that was tapped. Unlike most keys this one is made anew with every page."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    spot = forms.ModelChoiceField(
        queryset=Spot.objects.filter(in_use=True),
        error_messages={
            "required": _("Tap the spot where it stands now."),
            "invalid_choice": _("That spot is no longer in use. Tap another."),
        },
    )


class SpotForm(forms.ModelForm):
    class Meta:
        model = Spot
        fields = ["name", "sort"]
        help_texts = {"name": _("As it is written there: “Bay 3”, “White truck”.")}

    def _get_validation_exclusions(self):
        # A name that was in use before may be used again: the service opens that one anew.
        return super()._get_validation_exclusions() | {"name"}
