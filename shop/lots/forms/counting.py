"""How much of each line stands on the seller's floor."""

from collections.abc import Sequence
from decimal import Decimal

from django import forms

from shop.lots.models import LotLine
from shop.lots.services.counting import amount_of
from units.show.words import number

MOST = Decimal(99_999)


class CountForm(forms.Form):
    """A field for each line, named ``line-`` and its id; left empty, the line stays as it is."""

    def __init__(self, *args, lines: Sequence[LotLine], **kwargs):
        super().__init__(*args, **kwargs)
        self.lines = list(lines)
        for line in self.lines:
            whole = line.sort == LotLine.Sort.MACHINE
            self.fields[f"line-{line.pk}"] = forms.DecimalField(
                label=line.named or line.text,
                required=False,
                min_value=Decimal(0),
                max_value=Decimal(2000) if whole else MOST,
                decimal_places=0 if whole else 3,
                initial=amount_of(line).normalize(),
                widget=forms.NumberInput(attrs={"inputmode": "numeric" if whole else "decimal"}),
            )

    @property
    def rows(self) -> list:
        """Each line with how much the list says, and its field."""
        return [(line, number(amount_of(line)), self[f"line-{line.pk}"]) for line in self.lines]

    def counts(self) -> dict[int, Decimal]:
        said = {line.pk: self.cleaned_data.get(f"line-{line.pk}") for line in self.lines}
        return {pk: counted for pk, counted in said.items() if counted is not None}
