"""How a form asks for a day."""

from django import forms


class DayInput(forms.DateInput):
    """A browser's own calendar, which reads ISO 8601 alone, whatever the person's language."""

    input_type = "date"

    def __init__(self, attrs=None):
        super().__init__(attrs, format="%Y-%m-%d")
