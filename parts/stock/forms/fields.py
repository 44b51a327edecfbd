"""Fields that several forms of the shelf share."""

import uuid
from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.fits.forms import AGAIN, SPOILT
from parts.fits.models import Part


class BinInput(forms.CharField):
    """A bin by name, known or new; the page holds the list ``bins``."""

    def __init__(self, **kwargs):
        widget = forms.TextInput(attrs={"list": "bins", "autocomplete": "off"})
        said = {"label": gettext_lazy("Bin"), "max_length": 40, "widget": widget}
        super().__init__(**said | kwargs)


class QuantityInput(forms.DecimalField):
    """So many pieces, to the thousandth, more than none."""

    def __init__(self, **kwargs):
        bounds = {"min_value": Decimal("0.001"), "max_digits": 9, "decimal_places": 3}
        widget = forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"})
        super().__init__(widget=widget, **bounds, **kwargs)


class MoneyInput(forms.DecimalField):
    """An amount to the cent, nothing or more."""

    def __init__(self, **kwargs):
        bounds = {"min_value": Decimal(0), "max_digits": 9, "decimal_places": 2}
        widget = forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"})
        super().__init__(widget=widget, **bounds, **kwargs)


class PartNumberInput(forms.CharField):
    """A known part by its number; of several, that of ``maker``."""

    maker = None

    def __init__(self, **kwargs):
        widget = forms.TextInput(attrs={"autocomplete": "off"})
        said = {"label": gettext_lazy("Part number"), "max_length": 120, "widget": widget}
        super().__init__(**said | kwargs)

    def clean(self, value) -> Part | None:
        number = super().clean(value)
        if not number:
            return None
        found = list(Part.objects.numbered(number).select_related("maker")[:5])
        if not found:
            raise ValidationError(_("No part has this number. Add the part first."))
        ours = [part for part in found if self.maker and part.maker_id == self.maker.pk]
        found = ours or found
        if len(found) > 1:
            names = ", ".join(str(part.maker or _("no maker")) for part in found)
            raise ValidationError(
                _(
                    "Several makers have this number: %(names)s. Take the piece without a number "
                    "and put it on the shelf from the page of the right part."
                ),
                params={"names": names},
            )
        return found[0]


class OnceKey(forms.UUIDField):
    """The hidden key by which a form that is sent twice writes once."""

    def __init__(self, **kwargs):
        said = {"widget": forms.HiddenInput, "initial": uuid.uuid4}
        super().__init__(**said, error_messages=dict.fromkeys(SPOILT, AGAIN), **kwargs)
