from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.utils.translation import gettext_lazy

from units.catalogue.domain.keys import LONGEST_SERIAL, SerialError
from units.catalogue.models import MachineModel, UnitPhoto
from units.catalogue.services import ModelFacts, tidy_serial
from units.files.forms import PicturesField

# More than any machine has: a slip of the keys, not a fact. Common practice, no published source.
MOST = {"volts": 1000, "hertz": 400, "amps": 200, "mass": 2000}


class SerialField(forms.CharField):
    """A serial number. Only spaces are an error; an empty field says that nobody can read it."""

    def __init__(self, **kwargs):
        defaults = {
            "label": gettext_lazy("Serial number"),
            "max_length": LONGEST_SERIAL,
            "required": False,
            "strip": False,
        }
        super().__init__(**defaults | kwargs)
        self.widget.attrs |= {
            "autocapitalize": "characters",
            "autocomplete": "off",
            "spellcheck": "false",
        }

    def clean(self, value):
        try:
            return tidy_serial(super().clean(value))
        except SerialError as error:
            raise ValidationError(str(error)) from error


class ModelForm(forms.ModelForm):
    class Meta:
        model = MachineModel
        fields = [
            "number",
            "name",
            "kind",
            "grade",
            "volts",
            "hertz",
            "amps",
            "plug",
            "mass",
            "confirmed",
        ]
        labels = {
            "confirmed": gettext_lazy("Confirmed by a plate or the maker's own papers"),
        }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, most in MOST.items():
            self.fields[name].validators += [MinValueValidator(1), MaxValueValidator(most)]

    def facts(self) -> ModelFacts:
        return ModelFacts(**self.cleaned_data)


class MergeForm(forms.Form):
    into = forms.ModelChoiceField(
        MachineModel.objects.none(),
        label=gettext_lazy("It is the same as"),
        empty_label=gettext_lazy("choose the model that stays"),
    )

    def __init__(self, *args, model: MachineModel, **kwargs):
        super().__init__(*args, **kwargs)
        others = MachineModel.objects.current().filter(kind=model.kind_id).exclude(pk=model.pk)
        self.fields["into"].queryset = others.select_related("maker")


class PhotosForm(forms.Form):
    shows = forms.ChoiceField(
        label=gettext_lazy("They show"), choices=UnitPhoto.Shows.choices, widget=forms.RadioSelect
    )
    pictures = PicturesField(label=gettext_lazy("Pictures"))
