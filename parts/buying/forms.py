import uuid
from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.buying.services import TypedLine
from parts.fits.forms import AGAIN, SPOILT
from parts.fits.models import Part
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Component
from units.show.inputs import DayInput

LINES = 5


class UnitCostInput(forms.DecimalField):
    """What one piece costs; at most a million, so that no line outgrows the ledger."""

    def __init__(self, **kwargs):
        widget = forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"})
        bounds = {"min_value": Decimal(0), "max_value": Decimal(1_000_000)}
        super().__init__(max_digits=13, decimal_places=6, widget=widget, **bounds, **kwargs)


class ReceiptForm(forms.Form):
    supplier = forms.CharField(
        label=gettext_lazy("Supplier"),
        max_length=120,
        widget=forms.TextInput(attrs={"list": "suppliers", "autocomplete": "off"}),
        help_text=gettext_lazy("Pick one, or type a new name."),
    )
    reference = forms.CharField(
        label=gettext_lazy("Number on the supplier’s paper"), max_length=60, required=False
    )
    received_on = forms.DateField(label=gettext_lazy("Received on"), widget=DayInput)
    key = forms.UUIDField(
        widget=forms.HiddenInput, initial=uuid.uuid4, error_messages=dict.fromkeys(SPOILT, AGAIN)
    )


def known_part(number: str, maker_name: str = "") -> Part | None:
    """The part of this number; a :class:`ValidationError` when several makers have one."""
    parts = Part.objects.numbered(number).select_related("maker")
    if maker_key := match_key(maker_name):
        parts = parts.filter(maker__key=maker_key)
    found = list(parts[:5])
    if len(found) > 1:
        names = ", ".join(str(part.maker or _("no maker")) for part in found)
        raise ValidationError(
            _("Several makers have this number: %(names)s. Say which."),
            params={"names": names},
        )
    return found[0] if found else None


class ReceiptLineForm(forms.Form):
    """One line; a part nobody has met needs a name and a component as well."""

    number = forms.CharField(
        label=gettext_lazy("Part number"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    bin = forms.CharField(
        label=gettext_lazy("Bin"),
        max_length=40,
        widget=forms.TextInput(attrs={"list": "bins", "autocomplete": "off"}),
    )
    quantity = forms.DecimalField(
        label=gettext_lazy("How many"),
        min_value=Decimal("0.001"),
        max_digits=9,
        decimal_places=3,
        widget=forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"}),
    )
    unit_cost = UnitCostInput(label=gettext_lazy("Cost for one"))
    name = forms.CharField(label=gettext_lazy("Name"), max_length=120, required=False)
    component = forms.ModelChoiceField(
        label=gettext_lazy("Component"), queryset=Component.objects.all(), required=False
    )
    maker = forms.CharField(
        label=gettext_lazy("Maker who numbers it"), max_length=80, required=False
    )

    def clean(self):
        cleaned = super().clean()
        number, maker = cleaned.get("number"), cleaned.get("maker", "")
        if not number:
            return cleaned
        try:
            self.part = known_part(number, maker)
        except ValidationError as error:
            self.add_error("maker", error)
            return cleaned
        if self.part is None:
            self._require_what_it_is(cleaned)
        return cleaned

    def _require_what_it_is(self, cleaned):
        if not match_key(cleaned["number"]):
            self.add_error("number", _("A part number needs at least one letter or digit."))
        if not cleaned.get("name"):
            self.add_error("name", _("This number is new here: say what the part is called."))
        if not cleaned.get("component"):
            self.add_error("component", _("This number is new here: say where it goes."))

    def typed(self) -> TypedLine:
        cleaned = self.cleaned_data
        return TypedLine(
            bin_name=cleaned["bin"],
            quantity=cleaned["quantity"],
            unit_cost=cleaned["unit_cost"],
            part=self.part,
            number=cleaned["number"],
            maker_name=cleaned["maker"],
            name=cleaned["name"],
            component=cleaned["component"],
        )


class BaseReceiptLines(forms.BaseFormSet):
    def clean(self):
        if not any(form.has_changed() for form in self.forms):
            raise ValidationError(_("Fill in a line: what came, how many, at what cost."))

    def typed(self) -> list[TypedLine]:
        return [form.typed() for form in self.forms if form.has_changed()]


ReceiptLines = forms.formset_factory(
    ReceiptLineForm, formset=BaseReceiptLines, extra=LINES, max_num=LINES, absolute_max=LINES
)


class PriceForm(forms.Form):
    supplier = ReceiptForm.base_fields["supplier"]
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
