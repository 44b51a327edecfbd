"""The months that have a book, and the entries of one."""

from datetime import date

from django.db.models import Q, QuerySet, Sum
from django.db.models.functions import TruncMonth
from django.urls import reverse

from shop.books.domain.months import Month
from shop.books.models import JournalEntry
from shop.books.selectors.sources import SOURCES


def months_with_papers(today: date) -> list[Month]:
    """Every month through today's in which a document moved an account, newest first. One query."""
    queries = [
        source.through(today)
        .order_by()
        .annotate(month=TruncMonth(source.day))
        .values_list("month")
        .distinct()
        for source in SOURCES.values()
    ]
    return sorted({Month.of(day) for (day,) in queries[0].union(*queries[1:])}, reverse=True)


def entries_of(month: Month) -> QuerySet[JournalEntry]:
    """The month's entries, newest first, each with its ``sum`` (the debits)."""
    rows = JournalEntry.objects.filter(entry_on__gte=month.first, entry_on__lte=month.last)
    return rows.annotate(sum=Sum("lines__amount", filter=Q(lines__amount__gt=0))).order_by(
        "-entry_on", "-pk"
    )


def entry_page() -> QuerySet[JournalEntry]:
    return JournalEntry.objects.select_related("posted_by").prefetch_related("lines__account")


def paper_href(entry: JournalEntry) -> str:
    """Where the document of an entry is read; empty where it has no page of its own."""
    number = entry.document.partition("/")[0]
    pages = {"R": "invoice", "J": "job", "D": "receipt"}
    name = pages.get(number[:1])
    return reverse(name, args=[number]) if name and number[1:].isdigit() else ""
