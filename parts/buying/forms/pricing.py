from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.buying.domain.pricelist import WANTED
from parts.buying.forms.fields import SupplierInput, UnitCostInput, known_part
from parts.buying.selectors import Chosen, ListReading
from units.show.inputs import DayInput


class PriceForm(forms.Form):
    supplier = SupplierInput()
    number = forms.CharField(label=gettext_lazy("Part number"), max_length=60)
    maker = forms.CharField(
        label=gettext_lazy("Maker who numbers it"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Only when several makers have this number."),
    )
    cost = UnitCostInput(label=gettext_lazy("Cost for one"))
    lead_days = forms.IntegerField(
        label=gettext_lazy("Days to come"), min_value=0, max_value=730, required=False
    )
    given_on = forms.DateField(label=gettext_lazy("Asked on"), widget=DayInput)

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

    def price(self) -> dict:
        """The supplier's name, cost, lead time and day, as the service takes them."""
        names = "supplier", "cost", "lead_days", "given_on"
        return {name: self.cleaned_data[name] for name in names}


class ListForm(forms.Form):
    """A supplier's price list, as it came."""

    supplier = SupplierInput()
    file = forms.FileField(
        label=gettext_lazy("Spreadsheet"),
        help_text=gettext_lazy("An .xlsx or a .csv file, in whatever order its columns stand."),
        error_messages={"empty": gettext_lazy("This file is empty. Send the list itself.")},
        widget=forms.FileInput(attrs={"accept": ".xlsx,.csv,.txt"}),
    )
    given_on = forms.DateField(
        label=gettext_lazy("Prices are of"),
        widget=DayInput,
        help_text=gettext_lazy("The day on the list, or the day on which it came."),
    )


class ColumnsForm(forms.Form):
    """Which sheet and columns to read; what was proposed stands there first."""

    sheet = forms.TypedChoiceField(label=gettext_lazy("Sheet"), coerce=int)
    sheet_maker = forms.CharField(
        label=gettext_lazy("Maker of parts whose row names none"), max_length=80, required=False
    )

    def __init__(self, *args, reading: ListReading, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["sheet"].choices = list(enumerate(reading.sheets))
        if len(reading.sheets) == 1:
            self.fields["sheet"].widget = forms.HiddenInput()
        self.initial["sheet"] = reading.sheet
        for one in WANTED:
            choice = reading.layout.columns.get(one.name)
            self.fields[one.name] = forms.TypedChoiceField(
                label=_(one.title),
                choices=[("", _("none")), *reading.columns],
                coerce=int,
                empty_value=None,
                required=one.required,
                help_text=_("%(percent)d %% sure") % {"percent": round(100 * choice.confidence)}
                if choice
                else "",
            )
            self.initial[one.name] = choice.column if choice else ""


def chosen_from(data) -> Chosen:
    """What the fields of :class:`ColumnsForm` say in an address or a sent form, as far as known.

    Nonsense counts as nothing chosen: the page then shows what is proposed.
    """
    columns = {one.name: _column(data[one.name]) for one in WANTED if one.name in data}
    sheet = data.get("sheet", "")
    return Chosen(_column(sheet), columns, data.get("sheet_maker", "")[:80].strip())


def _column(text: str) -> int | None:
    return int(text) if text.isdecimal() and len(text) < 4 else None
