"""Fields that several forms of buying share."""

import uuid
from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.fits.forms import AGAIN, SPOILT
from parts.fits.models import Part
from units.catalogue.domain.keys import match_key


def _figures() -> forms.NumberInput:
    return forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"})


class UnitCostInput(forms.DecimalField):
    """What one piece costs; at most a million, so that no line outgrows the ledger."""

    def __init__(self, **kwargs):
        bounds = {"min_value": Decimal(0), "max_value": Decimal(1_000_000)}
        super().__init__(max_digits=13, decimal_places=6, widget=_figures(), **bounds, **kwargs)


class QuantityInput(forms.DecimalField):
    """So many of a part, to the thousandth, more than none."""

    def __init__(self, **kwargs):
        bounds = {"min_value": Decimal("0.001"), "max_digits": 9, "decimal_places": 3}
        super().__init__(widget=_figures(), **bounds, **kwargs)


class SupplierInput(forms.CharField):
    """A supplier by name, known or new; the page holds the list ``suppliers``."""

    def __init__(self, **kwargs):
        said = {
            "label": gettext_lazy("Supplier"),
            "max_length": 120,
            "widget": forms.TextInput(attrs={"list": "suppliers", "autocomplete": "off"}),
            "help_text": gettext_lazy("Pick one, or type a new name."),
        }
        super().__init__(**said | kwargs)


class BinInput(forms.CharField):
    """A bin by name, known or new; the page holds the list ``bins``."""

    def __init__(self, **kwargs):
        widget = forms.TextInput(attrs={"list": "bins", "autocomplete": "off"})
        said = {"label": gettext_lazy("Bin"), "max_length": 40, "widget": widget}
        super().__init__(**said | kwargs)


class OnceKey(forms.UUIDField):
    """The hidden key by which a form that is sent twice writes once."""

    def __init__(self, **kwargs):
        said = {"widget": forms.HiddenInput, "initial": uuid.uuid4}
        super().__init__(**said, error_messages=dict.fromkeys(SPOILT, AGAIN), **kwargs)


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
