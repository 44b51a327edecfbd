"""The template side of :mod:`units.show.words`; an absent value is written as a dash."""

from urllib.parse import quote

from django import template
from django.conf import settings
from django.utils.html import format_html
from django.utils.translation import gettext

from units.show import words

register = template.Library()

ABSENT = "–"


def _filter(name, write):
    register.filter(name, lambda value: ABSENT if value in (None, "") else write(value))


_filter("money", words.money)
_filter("unit_cost", words.unit_cost)
_filter("number", words.number)
_filter("day", words.day)
_filter("moment", words.moment)
_filter("days_ago", words.days_ago)
_filter("minutes", words.minutes)
_filter("person", words.person)
# Sentences that come from the reference data are written in English there and translated here.
_filter("translated", lambda value: gettext(str(value)))


@register.filter
def counted(quantity, measure: str) -> str:
    """``{{ goods.left|counted:goods.measure }}``"""
    return ABSENT if quantity in (None, "") else words.counted(quantity, measure)


def _document(number: str) -> str:
    """A document's number as a link to whatever it is: the shop's search knows its owner."""
    return format_html('<a href="{}{}">{}</a>', settings.DOCUMENT_FINDER, quote(number), number)


_filter("document", _document)
