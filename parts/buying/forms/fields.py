"""Fields that several forms of buying share."""

from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from parts.fits.models import Part
from units.catalogue.domain.keys import match_key


class UnitCostInput(forms.DecimalField):
    """What one piece costs; at most a million, so that no line outgrows the ledger."""

    def __init__(self, **kwargs):
        bounds = {"min_value": Decimal(0), "max_value": Decimal(1_000_000)}
        widget = forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"})
        super().__init__(max_digits=13, decimal_places=6, widget=widget, **bounds, **kwargs)


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
