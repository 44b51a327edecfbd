import uuid

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from shop.work.forms.estimates import PartField
from shop.work.models import EstimateLine
from units.show.inputs import DayInput
from units.show.words import number


class LineChoice(forms.ModelChoiceField):
    left = {}  # by line, how many are still to take

    def label_from_instance(self, line):
        return f"{number(self.left[line.pk])} × {line.description}"


class TakePartForm(forms.Form):
    """A part for a line of the estimate, or any other by its number."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    line = LineChoice(
        EstimateLine.objects.none(),
        label=_("For this line of the estimate"),
        widget=forms.RadioSelect,
        required=False,
        empty_label=_("none of these"),
    )
    part = PartField(help_text=_("Only for a part that the line does not name."))
    quantity = forms.DecimalField(
        label=_("Quantity"),
        min_value=0,
        max_digits=9,
        decimal_places=3,
        required=False,
        help_text=_("Empty: as many as the line still wants, else one."),
    )

    def __init__(self, *args, lines, **kwargs):
        super().__init__(*args, **kwargs)
        if lines:
            self.fields["line"].left = {line.line: line.quantity for line in lines}
            self.fields["line"].queryset = EstimateLine.objects.filter(
                pk__in=[line.line for line in lines]
            ).select_related("part", "estimate")
            self.fields["line"].initial = lines[0].line
        else:
            del self.fields["line"]
            self.fields["part"].help_text = _("As it stands on the label.")
            self.fields["quantity"].help_text = _("Empty: one.")

    def clean(self):
        cleaned = super().clean()
        line, part = cleaned.get("line"), cleaned.get("part")
        if part is None and line is not None and line.part_id is None:
            self.add_error("part", _("This line names no part yet. Give the number of the one."))
        elif part is None and line is None and "part" not in self.errors:
            self.add_error("part", _("Choose a line, or give the number of a part."))
        return cleaned

    def taken(self) -> dict:
        said = self.cleaned_data
        line = said.get("line")
        return {
            "line": line,
            "part": said["part"] or line.part,
            "quantity": said["quantity"] or (self.fields["line"].left[line.pk] if line else 1),
            "key": said["key"],
        }


class ClockForm(forms.Form):
    """What a stopped clock writes; empty minutes take what it ran."""

    minutes = forms.IntegerField(
        label=_("Minutes"),
        min_value=0,
        max_value=24 * 60,
        required=False,
        help_text=_("Empty: as long as the clock ran. 0: nothing was worked."),
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    note = forms.CharField(label=_("What was done"), max_length=400, required=False)


class TimeForm(forms.Form):
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid.uuid4)
    minutes = forms.IntegerField(
        label=_("Minutes"),
        min_value=1,
        max_value=24 * 60,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )
    worked_on = forms.DateField(
        label=_("Worked on"),
        initial=timezone.localdate,
        widget=DayInput,
    )
    note = forms.CharField(label=_("What was done"), max_length=400, required=False)
