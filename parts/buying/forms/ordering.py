from decimal import Decimal, InvalidOperation

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.buying.forms.fields import SupplierInput, UnitCostInput, known_part
from parts.buying.services import OrderedLine
from parts.stock.forms.fields import OnceKey, QuantityInput
from units.show.inputs import DayInput

MOST_LINES = 60
EMPTY_LINES = 3


class OrderForm(forms.Form):
    supplier = SupplierInput()
    ordered_on = forms.DateField(label=gettext_lazy("Ordered on"), widget=DayInput)
    note = forms.CharField(
        label=gettext_lazy("Note for the supplier"), max_length=400, required=False
    )
    key = OnceKey()


class OrderLineForm(forms.Form):
    """One line of an order, of a part that is known."""

    number = forms.CharField(
        label=gettext_lazy("Part number"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    quantity = QuantityInput(label=gettext_lazy("How many"))
    unit_cost = UnitCostInput(label=gettext_lazy("Cost for one"))
    expected_on = forms.DateField(
        label=gettext_lazy("Expected on"), widget=DayInput, required=False
    )
    demand = forms.CharField(
        label=gettext_lazy("Who waits for it"),
        max_length=40,
        required=False,
        help_text=gettext_lazy("A job’s number, or nothing for the shelf."),
    )
    maker = forms.CharField(
        label=gettext_lazy("Maker who numbers it"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Only when several makers have this number."),
    )

    def clean(self):
        cleaned = super().clean()
        if not cleaned.get("number"):
            return cleaned
        try:
            self.part = known_part(cleaned["number"], cleaned.get("maker", ""))
        except ValidationError as error:
            self.add_error("maker", error)
            return cleaned
        if self.part is None:
            self.add_error("number", _("No part has this number. Add the part first."))
        return cleaned

    def ordered(self) -> OrderedLine:
        cleaned = self.cleaned_data
        names = "quantity", "unit_cost", "demand", "expected_on"
        return OrderedLine(self.part, **{name: cleaned[name] for name in names})


class BaseOrderLines(forms.BaseFormSet):
    """Lines that may each be left empty, also those that were filled in for the person."""

    def initial_form_count(self):
        return 0

    def total_form_count(self):
        if self.is_bound:
            return super().total_form_count()
        return min(len(self.initial or []) + self.extra, self.max_num)

    def clean(self):
        if not any(form.has_changed() for form in self.forms):
            raise ValidationError(_("Fill in a line: which part, how many, at what cost."))

    @property
    def filled(self) -> list[OrderLineForm]:
        return [form for form in self.forms if form.has_changed()]


OrderLines = forms.formset_factory(
    OrderLineForm,
    formset=BaseOrderLines,
    extra=EMPTY_LINES,
    max_num=MOST_LINES,
    absolute_max=MOST_LINES,
)


class CancelForm(forms.Form):
    reason = forms.CharField(label=gettext_lazy("Why it will not come"), max_length=200)


def asked_lines(wants: list[str]) -> list[tuple[int, Decimal, str]]:
    """``(part id, quantity, document)`` of each ``12:3:J00012``; nonsense is left out."""
    found = []
    for want in wants[: MOST_LINES - EMPTY_LINES]:
        part, _colon, rest = want.partition(":")
        quantity, _colon, key = rest.partition(":")
        try:
            amount = Decimal(quantity)
        except InvalidOperation:
            continue
        if part.isdecimal() and len(part) < 16 and amount.is_finite() and 0 < amount < 10**6:
            found.append((int(part), amount, key[:40]))
    return found
