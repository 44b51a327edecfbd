from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.buying.forms.fields import SupplierInput, UnitCostInput, known_part
from parts.buying.models import PurchaseOrderLine, SupplierReturn
from parts.buying.services import ArrivedLine, TypedLine
from parts.stock.forms.fields import BinInput, OnceKey, QuantityInput
from units.catalogue.domain.keys import match_key
from units.catalogue.models import Component
from units.show.inputs import DayInput

LINES = 5


class ReceiptForm(forms.Form):
    supplier = SupplierInput()
    reference = forms.CharField(
        label=gettext_lazy("Number on the supplier’s paper"), max_length=60, required=False
    )
    received_on = forms.DateField(label=gettext_lazy("Received on"), widget=DayInput)
    key = OnceKey()


class ReceiptLineForm(forms.Form):
    """One line; a part nobody has met needs a name and a component as well."""

    number = forms.CharField(
        label=gettext_lazy("Part number"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    bin = BinInput()
    quantity = QuantityInput(label=gettext_lazy("How many"))
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


class ArrivalForm(forms.Form):
    """The head of what came of an order."""

    reference = forms.CharField(
        label=gettext_lazy("Number on the supplier’s paper"), max_length=60, required=False
    )
    received_on = forms.DateField(label=gettext_lazy("Received on"), widget=DayInput)
    key = OnceKey()


class ArrivedLineForm(forms.Form):
    """What came of one line of an order; left empty, nothing came."""

    quantity = QuantityInput(label=gettext_lazy("How many came"), required=False)
    bin = BinInput(required=False)
    unit_cost = UnitCostInput(label=gettext_lazy("Cost for one"), required=False)

    def __init__(self, *args, line: PurchaseOrderLine, **kwargs):
        super().__init__(*args, **kwargs)
        self.line = line

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("quantity"):
            for name in ("bin", "unit_cost"):
                if cleaned.get(name) in (None, "") and name not in self.errors:
                    self.add_error(name, forms.Field.default_error_messages["required"])
        return cleaned

    def arrived(self) -> ArrivedLine | None:
        cleaned = self.cleaned_data
        if not cleaned["quantity"]:
            return None
        return ArrivedLine(self.line, cleaned["bin"], cleaned["quantity"], cleaned["unit_cost"])


class ReturnForm(forms.Form):
    quantity = QuantityInput(label=gettext_lazy("How many go back"))
    reason = forms.ChoiceField(
        label=gettext_lazy("Why"), choices=SupplierReturn.Reason, widget=forms.RadioSelect
    )
    note = forms.CharField(
        label=gettext_lazy("What is wrong with it"), max_length=200, required=False
    )
    returned_on = forms.DateField(label=gettext_lazy("Sent back on"), widget=DayInput)
    key = OnceKey()
