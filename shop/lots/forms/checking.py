"""What is sent from the screen on which a list is confirmed."""

from dataclasses import replace
from decimal import Decimal

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from shop.lots.domain.lists.figures import FIRST_YEAR, LAST_YEAR, MOST_HOURS
from shop.lots.domain.lists.runs import of_count
from shop.lots.models import LotLine, Measure
from shop.lots.services import Facts
from units.sheets.domain.table import column_name

ROLE_LABELS = {
    "machine": _("which machine"),
    "maker": _("maker"),
    "kind": _("kind of machine"),
    "count": _("how many"),
    "serial": _("serial numbers"),
    "hours": _("hours"),
    "year": _("year"),
    "measure": _("measure"),
    "price": _("asked price"),
    "note": _("condition"),
    "aside": _("nothing that we use"),
}
COUNTED = {"count", "serials", "run", "merged-count"}
WEIGHED = {"mass", "amount", "area"}
UNANSWERED = {"what", "nameless"}


class AnswerForm(forms.Form):
    """The answers to a line's questions; nothing entered leaves the line for later.

    What no short answer settles is answered on the line's own page.
    """

    none = forms.BooleanField(label=_("This is none of the offer"), required=False)

    def __init__(self, *args, line: LotLine, **kwargs):
        super().__init__(*args, prefix=f"line-{line.pk}", **kwargs)
        self.line = line
        self.codes = {one["code"] for one in line.row.questions}
        if self.codes & UNANSWERED:
            return
        if self.codes & COUNTED:
            self.fields["count"] = forms.IntegerField(
                label=_("How many"), min_value=1, max_value=2000, required=False
            )
        if "hours-or-year" in self.codes:
            self.fields["use"] = forms.ChoiceField(
                label=_("It is"),
                choices=[("", _("not said yet")), ("hours", _("hours")), ("year", _("a year"))],
                required=False,
            )
        if "hours" in self.codes:
            self.fields["hours"] = forms.IntegerField(
                label=_("Hours"), min_value=0, max_value=MOST_HOURS, required=False
            )
        if self.codes & WEIGHED:
            self.fields["quantity"] = forms.DecimalField(
                label=_("How much"), min_value=Decimal("0.001"), max_digits=11, decimal_places=3,
                required=False,
            )  # fmt: skip
            self.fields["measure"] = forms.ChoiceField(
                label=_("Measure"),
                choices=Measure.choices,
                required=False,
                initial=Measure.SQFT if "area" in self.codes else Measure.LB,
            )

    @property
    def is_short(self) -> bool:
        """Whether it can be answered here."""
        return not self.codes & UNANSWERED

    @property
    def is_answered(self) -> bool:
        names = [name for name in self.fields if name not in ("none", "measure")]
        return bool(names) and all(self.cleaned_data.get(name) not in (None, "") for name in names)

    def clean(self):
        cleaned = super().clean()
        figure = self._figure()
        if cleaned.get("use") == "year" and not FIRST_YEAR <= figure <= LAST_YEAR:
            self.add_error("use", _now("%(year)d is no year of a machine.") % {"year": figure})
        return cleaned

    def _figure(self) -> int:
        texts = [one["named"]["text"] for one in self.line.row.questions
                 if one["code"] == "hours-or-year"]  # fmt: skip
        return int(Decimal(texts[0])) if texts else 0

    def facts(self) -> Facts:
        """The line with its questions answered."""
        line, said = self.line, self.cleaned_data
        count = said.get("count") or line.count
        facts = Facts(
            text=line.text,
            model=line.model if line.sort == "machine" else None,
            maker=line.maker,
            number=line.number,
            kind=line.kind,
            count=count,
            serials=of_count(line.serials, count),
            hours=said.get("hours", line.hours),
            year=line.year,
            note=line.note,
            goods=line.goods,
            measure=said.get("measure") or line.measure,
            quantity=said.get("quantity") or said.get("count") or line.quantity,
            pieces=line.pieces,
            asked=line.asked,
        )
        return replace(facts, **{said["use"]: self._figure()}) if said.get("use") else facts


class ColumnsForm(forms.Form):
    """What the columns of one part of a list hold; what was proposed stands there first."""

    def __init__(self, *args, part: dict, **kwargs):
        super().__init__(*args, prefix=f"part-{part['first']}-{part['sheet']}", **kwargs)
        self.part = part
        for one in part["columns"]:
            place = one["column"]
            self.fields[str(place)] = forms.ChoiceField(
                label=" · ".join(filter(None, [column_name(place), one["heading"], one["sample"]])),
                choices=ROLE_LABELS.items(),
                initial=one["role"],
                help_text=_now("%(percent)d %% sure") % {"percent": one["sure"]},
            )

    def changed_roles(self) -> dict[str, str]:
        return {name: self.cleaned_data[name] for name in self.changed_data}


def chosen_models(data) -> dict[int, int | None]:
    """Of a sent form the model chosen for each line: ``lines-3=12,15`` goes with ``model-3=7``.

    Nonsense counts as nothing chosen.
    """
    chosen = {}
    for name in data:
        group = name.removeprefix("lines-")
        if group == name:
            continue
        model = data.get(f"model-{group}", "")
        for line in data[name].split(","):
            if line.isdecimal() and len(line) < 12:
                chosen[int(line)] = int(model) if _is_id(model) else None
    return chosen


def _is_id(text: str) -> bool:
    return text.isdecimal() and len(text) < 12
