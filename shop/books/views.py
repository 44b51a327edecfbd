from tempfile import TemporaryFile

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from parts.days.services import DayClosedError
from shop.books.domain.months import Month
from shop.books.filters import EntryFilter
from shop.books.selectors.figures import figures_of
from shop.books.selectors.periods import entries_of, entry_page, months_with_papers, paper_href
from shop.books.selectors.registers import tax_rows
from shop.books.selectors.words import TIES, month_name
from shop.books.services import BooksError, make_book, posting_rules, read_period

PAGE = 50
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def _month(period: str) -> Month:
    try:
        return read_period(period, timezone.localdate())
    except BooksError as error:
        raise Http404(str(error)) from error


@require_GET
def period_list(request):
    today = timezone.localdate()
    months = [(month, month_name(month)) for month in months_with_papers(today)]
    return render(request, "books/period_list.html", {"months": months, "now": Month.of(today)})


@require_GET
def period(request, period):
    month = _month(period)
    figures = figures_of(month, posting_rules())
    chosen = EntryFilter(request.GET, queryset=entries_of(month))
    context = {
        "month": month,
        "name": month_name(month),
        "figures": figures,
        "ties": [(TIES[tie.key], tie) for tie in figures.ties],
        "taxes": tax_rows(month),
        "filter": chosen,
        "page_obj": Paginator(chosen.qs, PAGE).get_page(request.GET.get("page")),
    }
    return render(request, "books/period.html", context)


@require_POST
def period_workbook(request, period):
    """Make the book: what was not posted yet is posted first, so it is asked for by a form."""
    month = _month(period)
    file = TemporaryFile()  # noqa: SIM115 - the response closes it
    try:
        make_book(month=month, file=file, by=request.user, at=timezone.now())
    except (BooksError, DayClosedError) as error:
        file.close()
        messages.error(request, str(error))
        return redirect("period", period=period)
    file.seek(0)
    name = f"books-{month}.xlsx"
    return FileResponse(file, as_attachment=True, filename=name, content_type=XLSX)


@require_GET
def journal_entry(request, pk):
    entry = get_object_or_404(entry_page(), pk=pk)
    context = {"entry": entry, "month": Month.of(entry.entry_on), "paper": paper_href(entry)}
    return render(request, "books/journal_entry.html", context)
