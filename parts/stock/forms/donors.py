from decimal import Decimal

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.stock.forms.fields import BinInput, MoneyInput, OnceKey, PartNumberInput
from parts.stock.models import DonorComponent
from parts.stock.services import StripLine
from units.catalogue.models import Component
from units.show.inputs import DayInput

FATES = [
    ("scrap", gettext_lazy("scrap it")),
    ("take", gettext_lazy("into a bin")),
    ("leave", gettext_lazy("leave it on")),
]


class StripForm(forms.Form):
    """The head of a strip list. What ``known`` holds is said by whoever asks, not by the person."""

    document = forms.CharField(
        label=gettext_lazy("Paper by which it came"),
        max_length=40,
        help_text=gettext_lazy("The purchase or job, as B00012. It stands on every move."),
    )
    cost = MoneyInput(label=gettext_lazy("What the machine cost us"))
    on = forms.DateField(label=gettext_lazy("Taken apart on"), widget=DayInput)
    key = OnceKey()

    def __init__(self, *args, known: dict, **kwargs):
        super().__init__(*args, **kwargs)
        for name in known:
            del self.fields[name]


class StripLineForm(forms.Form):
    """What becomes of one component."""

    fate = forms.ChoiceField(choices=FATES, initial="scrap")
    grade = forms.ChoiceField(choices=[("", "–"), *DonorComponent.Grade.choices], required=False)
    part = PartNumberInput(required=False)
    bin = BinInput(required=False)
    value = MoneyInput(required=False)

    def __init__(self, *args, component: Component, maker, **kwargs):
        super().__init__(*args, **kwargs)
        self.component = component
        self.fields["part"].maker = maker
        labels = {
            "fate": _("What becomes of: %(component)s"),
            "grade": _("Grade of: %(component)s"),
            "part": _("Part number of: %(component)s"),
            "bin": _("Bin of: %(component)s"),
            "value": _("Value of: %(component)s"),
        }
        for name, label in labels.items():
            words = label % {"component": component.name}
            self.fields[name].widget.attrs["aria-label"] = words

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("fate") in ("take", "leave") and not cleaned.get("grade"):
            self.add_error("grade", _("Say how good it is."))
        return cleaned

    def line(self) -> StripLine:
        """What is scrapped without a grade is spent; the rest of its row says nothing."""
        said = self.cleaned_data
        if said["fate"] == "scrap":
            return StripLine(self.component, said["grade"] or DonorComponent.Grade.SPENT, "scrap")
        in_bin = said["bin"] if said["fate"] == "take" else ""
        value = said["value"] or Decimal(0)
        return StripLine(self.component, said["grade"], said["fate"], said["part"], in_bin, value)


class TakeOffForm(forms.Form):
    part = PartNumberInput()
    bin = BinInput()
    on = forms.DateField(label=gettext_lazy("Taken off on"), widget=DayInput)


class ScrapPieceForm(forms.Form):
    note = forms.CharField(label=gettext_lazy("Why"), max_length=200)
    on = forms.DateField(label=gettext_lazy("Scrapped on"), widget=DayInput)
