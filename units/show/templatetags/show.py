"""The template side of :mod:`units.show.words`; an absent value is written as a dash."""

from django import template
from django.utils.translation import gettext

from units.show import words

register = template.Library()

ABSENT = "–"


def _filter(name, write):
    register.filter(name, lambda value: ABSENT if value in (None, "") else write(value))


_filter("money", words.money)
_filter("number", words.number)
_filter("day", words.day)
_filter("moment", words.moment)
_filter("days_ago", words.days_ago)
_filter("minutes", words.minutes)
# Sentences that come from the reference data are written in English there and translated here.
_filter("translated", lambda value: gettext(str(value)))
