from decimal import Decimal

from django import forms
from django.conf import settings
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from units.files.forms import PictureField, PictureInput
from units.inspections.domain.judging import CODE_SHOWN
from units.inspections.models import MeasureReading, ProtocolStep, StepResult

NOT_POSSIBLE = StepResult.Outcome.NOT_POSSIBLE


class StepForm(forms.Form):
    """The answer to one step.

    Each condition is a button that answers and goes on. So the form of a condition has no field
    of one line: Enter there would press the first button and write down what nobody chose.
    """

    condition = forms.ChoiceField(
        label=gettext_lazy("What do you find?"),
        error_messages={
            "required": gettext_lazy("Choose what you find, or say below why it was not possible.")
        },
    )
    value = forms.DecimalField(
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
        error_messages={
            "invalid": gettext_lazy("Write the value as a number, such as 11.5."),
            "required": gettext_lazy(
                "Write the measured value, or say below why it was not possible."
            ),
        },
    )
    photo = PictureField(
        label=gettext_lazy("Photo"),
        required=False,
        widget=PictureInput({"capture": "environment", "data-most": settings.UPLOAD_MAX_BYTES}),
    )
    note = forms.CharField(
        label=gettext_lazy("Note"),
        required=False,
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    because = forms.CharField(required=False, max_length=200)
    reason = forms.CharField(
        label=gettext_lazy("In other words"),
        max_length=200,
        widget=forms.Textarea(attrs={"rows": 1}),
        error_messages={"required": gettext_lazy("Say why the step was not possible.")},
    )
    outcome = forms.CharField(required=False, max_length=12)
    code = forms.IntegerField(required=False, min_value=1, max_value=2**53)

    def __init__(self, *args, step: ProtocolStep, **kwargs):
        super().__init__(*args, auto_id=f"step_{step.position}_%s", **kwargs)
        self.asked = "value" if step.answer == ProtocolStep.Answer.MEASURE else "condition"
        if self.asked == "value":
            del self.fields["condition"]
            self.fields["value"].label = _("Measured, in %(measure)s") % {"measure": step.measure}
        else:
            del self.fields["value"]
            self.fields["condition"].choices = [
                (row["condition"], _(row["label"])) for row in step.conditions
            ]

    @property
    def answer(self):
        """The bound field that the step asks for."""
        return self[self.asked]

    def clean(self):
        """An answer or a reason, by the button pressed; the other way's faults do not count."""
        data = super().clean()
        if because := data.pop("because", ""):
            data |= {"outcome": NOT_POSSIBLE, "reason": because}
            self._errors.pop("reason", None)
        if data.get("code") and data.get("outcome") != NOT_POSSIBLE:
            data["condition"] = CODE_SHOWN
            self._errors.pop("condition", None)
        else:
            data.pop("code", None)
        other = self.asked if data.get("outcome") == NOT_POSSIBLE else "reason"
        self._errors.pop(other, None)
        data.pop(other, None)
        return data

    def given(self) -> dict:
        """What ``record_step`` takes of a valid form."""
        words = ("outcome", "condition", "value", "reason", "note", "code")
        answer = {word: self.cleaned_data[word] for word in words if word in self.cleaned_data}
        return answer | {"upload": self.cleaned_data.get("photo")}


def kept_answer(result: StepResult | None, reading: MeasureReading | None = None) -> dict:
    """What a form starts with: the result as it was recorded, else what a tool worked out."""
    if result is None:
        return {} if reading is None else {"value": written(abs(reading.value))}
    return {
        "condition": result.condition,
        "code": result.error_code_id,
        "value": None if result.value is None else written(result.value),
        "reason": result.reason,
        "note": result.note,
    }


def written(value: Decimal) -> str:
    """A number as a field takes it, with no more decimals than a result has."""
    return f"{round(value, 4).normalize():f}"
