"""Decimals kept as whole numbers.

SQLite stores a decimal as a float and then refuses lawful sums, so every amount is an
integer count of its smallest step in the database and a ``Decimal`` in Python.
"""

from decimal import Decimal

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.translation import gettext_lazy as _


class FixedPointField(models.BigIntegerField):
    """A ``Decimal`` with a fixed number of places, stored as an integer.

    A value with more places than the field has is an error, never rounded here: rounding is
    a named rule of the domain that made the value.
    """

    description = _("Fixed-point number")

    def __init__(self, *args, places: int = 2, **kwargs):
        self.places = places
        super().__init__(*args, **kwargs)

    def deconstruct(self):
        name, path, args, kwargs = super().deconstruct()
        return name, path, args, kwargs | {"places": self.places}

    def from_db_value(self, value, expression, connection):
        return None if value is None else Decimal(int(value)).scaleb(-self.places)

    def to_python(self, value):
        if value is None or isinstance(value, Decimal):
            return value
        try:
            return Decimal(str(value))
        except ArithmeticError as error:
            raise ValidationError(
                _("“%(value)s” is not a number."), params={"value": value}
            ) from error

    def get_prep_value(self, value):
        if value is None or hasattr(value, "resolve_expression"):
            return value
        steps = self.to_python(value).scaleb(self.places)
        if steps != steps.to_integral_value():
            raise ValidationError(
                _("%(value)s has more than %(places)d decimal places."),
                params={"value": value, "places": self.places},
            )
        return int(steps)

    def formfield(self, **kwargs):
        defaults = {
            "form_class": forms.DecimalField,
            "decimal_places": self.places,
            "max_digits": 17,
        }
        return models.Field.formfield(self, **defaults | kwargs)

    @property
    def validators(self):
        # The integer bounds of the parent speak of steps; the form field's digits bound the value.
        return []


class MoneyField(FixedPointField):
    """An amount in the shop's currency, to the cent."""

    description = _("Amount of money")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs | {"places": 2})


class UnitCostField(FixedPointField):
    """A cost for one piece, to the millionth, so that a quantity times it loses no cent."""

    description = _("Cost for one piece")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs | {"places": 6})


class QuantityField(FixedPointField):
    """Pieces, metres or kilograms, to the thousandth."""

    description = _("Quantity")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs | {"places": 3})
