"""How money, quantities, days and measures are written: one function each, used everywhere."""

from datetime import date, datetime
from decimal import Decimal

from babel.numbers import format_currency, format_decimal
from django.conf import settings
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import get_language, gettext, ngettext, to_locale


def _locale() -> str:
    return to_locale(get_language() or settings.LANGUAGE_CODE)


def money(amount: Decimal) -> str:
    return format_currency(amount, settings.CURRENCY, locale=_locale())


def unit_cost(amount: Decimal) -> str:
    """What one piece costs, with the parts of a cent that it has."""
    places = {"locale": _locale(), "decimal_quantization": False}
    return format_currency(amount.normalize(), settings.CURRENCY, **places)


def number(value: Decimal) -> str:
    """A quantity, percentage or measure without trailing zeros."""
    return format_decimal(value.normalize(), format="#,##0.######", locale=_locale())


def counted(quantity: Decimal, measure: str) -> str:
    """``4 pieces``, ``310 lb``, ``1 square foot``; a measure that is none of these as it stands."""
    places = {"quantity": number(quantity)}
    one_or_more = 1 if quantity == 1 else 2
    words = {
        "piece": ngettext("%(quantity)s piece", "%(quantity)s pieces", one_or_more),
        "set": ngettext("%(quantity)s set", "%(quantity)s sets", one_or_more),
        "lb": gettext("%(quantity)s lb"),
        "kg": gettext("%(quantity)s kg"),
        "sqft": ngettext("%(quantity)s square foot", "%(quantity)s square feet", one_or_more),
        "sqm": ngettext("%(quantity)s square metre", "%(quantity)s square metres", one_or_more),
    }
    return words[measure] % places if measure in words else f"{places['quantity']} {measure}"


def measure(value: Decimal, uncertainty: Decimal, symbol: str) -> str:
    """``0.260 ± 0.034 mph``: both to the decimals that the uncertainty has; without one (zero) the
    value alone."""
    if not uncertainty:
        return f"{number(value)} {symbol}".strip()
    decimals = max(-uncertainty.as_tuple().exponent, 0)
    pattern = "#,##0." + "0" * decimals if decimals else "#,##0"
    told, doubt = (
        format_decimal(one, format=pattern, locale=_locale()) for one in (value, uncertainty)
    )
    places = {"value": told, "doubt": doubt, "measure": symbol}
    return (gettext("%(value)s ± %(doubt)s %(measure)s") % places).strip()


def day(value: date) -> str:
    """A day; of an instant, the day it had where the shop is."""
    if isinstance(value, datetime):
        value = timezone.localtime(value).date()
    return date_format(value, "j M Y")


def moment(value: datetime) -> str:
    return date_format(timezone.localtime(value), "j M Y, H:i")


def days_ago(count: int) -> str:
    if count == 0:
        return gettext("today")
    if count == 1:
        return gettext("yesterday")
    return ngettext("%(count)d day ago", "%(count)d days ago", count) % {"count": count}


def minutes(count: int) -> str:
    """Working time: ``95`` is written ``1 h 35 min``."""
    hours, rest = divmod(count, 60)
    if not hours:
        return gettext("%(minutes)d min") % {"minutes": rest}
    if not rest:
        return gettext("%(hours)d h") % {"hours": hours}
    return gettext("%(hours)d h %(minutes)d min") % {"hours": hours, "minutes": rest}


def person(user) -> str:
    """Somebody of the shop: the full name, or the sign-in where none is kept."""
    return user.get_full_name() or user.get_username()
