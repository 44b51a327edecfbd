"""What a table of the month's book is: its columns, and the rows, read as they come."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from shop.books.domain.months import Month

CHUNK = 2000


@dataclass(frozen=True)
class Column:
    """``form`` is text, day, money, quantity or percent."""

    title: str
    form: str = "text"
    width: int = 14


@dataclass(frozen=True)
class Register:
    """``title`` names the sheet; ``rows`` reads the month's rows, each as long as ``columns``."""

    title: str
    columns: tuple[Column, ...]
    rows: Callable[[Month], Iterable[tuple]]


DAY = Column(_("date"), "day", 12)


def of_month(rows: QuerySet, day: str, month: Month) -> QuerySet:
    found = rows.filter(**{f"{day}__gte": month.first, f"{day}__lte": month.last})
    return found.order_by(day, "pk")
