from django import forms
from django.utils.translation import gettext_lazy as _

from units.catalogue.forms import SerialField
from units.files.forms import PictureField


class PlateForm(forms.Form):
    photo = PictureField(label=_("Photo of the serial plate"))
    maker = forms.CharField(label=_("Maker"), max_length=80)
    number = forms.CharField(label=_("Model number"), max_length=60)
    serial = SerialField(
        help_text=_("As it stands on the plate. Leave empty only if nobody can read it.")
    )
