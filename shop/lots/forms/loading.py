"""How much of each line of goods stands at the truck."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django import forms
from django.utils.translation import gettext as _

from shop.lots.forms.counting import MOST
from shop.lots.models import GoodsFound, LotLine
from shop.lots.services import Count
from shop.till.forms import money_field


@dataclass(frozen=True)
class GoodsRow:
    """A line of goods, what was found of it so far, its part of the agreed price, its fields."""

    line: LotLine
    seen: GoodsFound | None
    part: Decimal | None
    found: forms.BoundField
    adjusted: forms.BoundField


class GoodsForm(forms.Form):
    """Fields ``found-`` and ``adjusted-`` with a line's id; a line left empty stays as it is."""

    def __init__(self, *args, lines: Sequence[LotLine], parts: Mapping[int, Decimal], **kwargs):
        super().__init__(*args, **kwargs)
        self.lines, self.parts = list(lines), parts
        for line in self.lines:
            self.fields[f"found-{line.pk}"] = _found_field(line)
            off = money_field(
                label=_("Off the price for %(line)s") % {"line": line.named},
                required=False,
                min_value=Decimal(0),
            )
            self.fields[f"adjusted-{line.pk}"] = off

    @property
    def rows(self) -> list[GoodsRow]:
        return [
            GoodsRow(
                line,
                getattr(line, "at_truck", None),
                self.parts.get(line.pk),
                self[f"found-{line.pk}"],
                self[f"adjusted-{line.pk}"],
            )
            for line in self.lines
        ]

    def clean(self):
        for line in self.lines:
            found, off = f"found-{line.pk}", f"adjusted-{line.pk}"
            said = self.cleaned_data
            if said.get(off) is not None and said.get(found) is None and found not in self.errors:
                self.add_error(found, _("Write how much was found; 0 where it is missing."))
        return self.cleaned_data

    def counts(self) -> dict[int, Count]:
        said = {line.pk: self.cleaned_data.get(f"found-{line.pk}") for line in self.lines}
        return {
            pk: Count(found, self.cleaned_data.get(f"adjusted-{pk}"))
            for pk, found in said.items()
            if found is not None
        }


def _found_field(line: LotLine) -> forms.DecimalField:
    whole, seen = line.measure == "piece", getattr(line, "at_truck", None)
    return forms.DecimalField(
        label=line.named,
        required=False,
        min_value=Decimal(0),
        max_value=MOST,
        decimal_places=0 if whole else 3,
        error_messages={"max_decimal_places": _("Pieces are counted whole.")} if whole else None,
        initial=seen and f"{seen.found.normalize():f}",
        widget=forms.NumberInput(attrs={"inputmode": "numeric" if whole else "decimal"}),
    )
