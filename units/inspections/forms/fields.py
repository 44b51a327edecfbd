"""A field for a number that was measured."""

from decimal import Decimal

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from units.inspections.domain.measures.outside import MOST, Measure
from units.show.words import number


class MeasuredField(forms.DecimalField):
    """A number in the shop's measure, above zero unless ``from_zero``.

    ``sort`` names the measure, ``instrument`` the row of the table that says how far it is off;
    without one the number is taken as exact.
    """

    default_error_messages = {
        "invalid": gettext_lazy("Write a number, such as 11.5."),
        "required": gettext_lazy("Measure this and write it down: without it nothing follows."),
        "max_decimal_places": gettext_lazy("Write it with at most four decimals."),
    }

    def __init__(self, label, sort: str, instrument: str = "", *, from_zero=False, **kwargs):
        self.called, self.sort, self.instrument = label, sort, instrument
        self.from_zero = from_zero
        widget = forms.TextInput(
            attrs={"inputmode": "decimal", "autocomplete": "off", "class": "big"}
        )
        super().__init__(label=label, widget=widget, decimal_places=4, **kwargs)

    def in_measure(self, measure: Measure) -> None:
        """Say the measure in the label and hold the number to what machines have."""
        self.measure = measure
        if measure.symbol:
            words = {"name": self.called, "measure": measure.symbol}
            self.label = _("%(name)s (%(measure)s)") % words
        self.most = measure.outside(MOST[self.sort])

    def validate(self, value):
        super().validate(value)
        if value is None:
            return
        if value < 0 or (value == 0 and not self.from_zero):
            raise forms.ValidationError(
                _("Write a number from 0 up.") if self.from_zero else _("Write a number above 0.")
            )
        if value > self.most:
            most = number(Decimal(f"{self.most:.4g}"))
            raise forms.ValidationError(
                _("That is more than any machine has: at most %(most)s. Look at the measure.")
                % {"most": most}
            )

    def inside(self, value: Decimal) -> float:
        return self.measure.inside(float(value))
