from decimal import Decimal

from django import forms
from django.utils.translation import gettext_lazy as _

from shop.lots.domain.lists.figures import FIRST_YEAR, LAST_YEAR, MOST_HOURS, serials_of
from shop.lots.models import Goods, LotLine, Measure
from shop.lots.services import Facts
from shop.till.forms import money_field
from units.catalogue.models import Kind, MachineModel
from units.catalogue.selectors import suggest_models

MODEL_BLANK = ("", _("as typed below"))


class LineForm(forms.Form):
    """One line: machines by model, or goods by a measure."""

    text = forms.CharField(label=_("As the seller says it"), max_length=200)
    model = forms.ChoiceField(label=_("Model we know"), required=False)
    maker = forms.CharField(label=_("Maker"), max_length=80, required=False)
    number = forms.CharField(label=_("Model number"), max_length=60, required=False)
    kind = forms.ModelChoiceField(
        Kind.objects.all(), label=_("Kind of machine"), required=False, empty_label=_("not known")
    )
    count = forms.IntegerField(label=_("How many"), min_value=1, max_value=2000, initial=1)
    serials = forms.CharField(
        label=_("Serial numbers"), max_length=4000, required=False, help_text=_("By commas.")
    )
    hours = forms.IntegerField(label=_("Hours"), min_value=0, max_value=MOST_HOURS, required=False)
    year = forms.IntegerField(
        label=_("Year"), min_value=FIRST_YEAR, max_value=LAST_YEAR, required=False
    )
    goods = forms.ChoiceField(
        label=_("Or goods"), choices=[("", _("none: machines")), *Goods.choices], required=False
    )
    quantity = forms.DecimalField(
        label=_("How much"),
        min_value=Decimal("0.001"),
        max_digits=11,
        decimal_places=3,
        required=False,
    )
    measure = forms.ChoiceField(
        label=_("Measure"), choices=[("", _("none")), *Measure.choices], required=False
    )
    pieces = forms.IntegerField(
        label=_("In how many pieces"), min_value=1, max_value=9999, required=False
    )
    asked = money_field(label=_("Asked for one"), required=False, min_value=Decimal(0))
    note = forms.CharField(label=_("Condition, in the seller's words"), max_length=300,
                           required=False)  # fmt: skip

    MACHINES = ("model", "maker", "number", "kind", "count", "serials", "hours", "year")
    GOODS = ("goods", "quantity", "measure", "pieces")

    def __init__(self, *args, line: LotLine | None = None, **kwargs):
        if line is not None:
            kwargs["initial"] = _said_of(line) | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        self.fields["kind"].widget.attrs["data-kind"] = "yes"
        self.fields["model"].choices = [MODEL_BLANK, *_models(line, self.data)]

    def facts(self) -> Facts:
        said = dict(self.cleaned_data)
        model = said.pop("model")
        said["serials"] = serials_of(said["serials"])
        said["model"] = (
            MachineModel.objects.select_related("maker").get(pk=model) if model else None
        )
        return Facts(**said)

    def machine_fields(self):
        return [self[name] for name in self.MACHINES]

    def goods_fields(self):
        return [self[name] for name in self.GOODS]


def _said_of(line: LotLine) -> dict:
    names = (
        "text", "model", "maker", "number", "count", "hours", "year", "goods", "quantity",
        "measure", "pieces", "asked", "note",
    )  # fmt: skip
    said = {name: getattr(line, name) for name in names}
    said["model"] = line.model.current.pk if line.model else ""
    return said | {"kind": line.kind_id, "serials": ", ".join(line.serials)}


def _models(line: LotLine | None, data) -> list[tuple[int, str]]:
    """What may be chosen: the candidates of the line, and what is like the number typed."""
    ids = [pk for pk, _sure in line.candidates] if line else []
    ids += [line.model.current.pk] if line and line.model else []
    typed = data.get("model", "") if data else ""
    ids += [int(typed)] if typed.isdecimal() and len(typed) < 12 else []
    found = MachineModel.objects.current().select_related("maker").in_bulk(ids)
    like = suggest_models(line.number) if line and line.number else []
    found |= {model.pk: model for model in like}
    return [(pk, str(model)) for pk, model in found.items()]
