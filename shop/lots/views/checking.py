"""The one screen on which a list becomes a confirmed lot."""

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST
from django.views.decorators.vary import vary_on_headers

from shop.lots.forms import AnswerForm, ColumnsForm, LineForm, chosen_models
from shop.lots.models import LotSource, SourceRow
from shop.lots.selectors import checking_of
from shop.lots.services import (
    LotError,
    add_line,
    choose_columns,
    confirm_chosen,
    confirm_list,
    confirm_sure,
    drop_line,
    make_line,
    queue_reading,
    read_again,
    settle_line,
)
from shop.lots.views.showing import show_refusal, the_line, the_lot


@require_GET
def show_checking(request, pk):
    return _shown(request, the_lot(pk))


def _shown(request, lot, answers=None, status=200):
    checking = checking_of(lot)
    context = {
        "lot": lot,
        "checking": checking,
        "answers": answers or [AnswerForm(line=line) for line in checking.asked],
        "parts": [
            (source, [ColumnsForm(part=part) for part in source.parts])
            for source in checking.sources
        ],
    }
    return render(request, "lots/check.html", context, status=status)


@require_GET
@vary_on_headers("HX-Request")
def show_progress(request, pk):
    """How far the lists are read; once they are, the page shows itself anew."""
    checking = checking_of(the_lot(pk))
    if not checking.waits:
        if request.htmx:
            return HttpResponse(headers={"HX-Refresh": "true"})
        return redirect("lot-check", pk)
    return render(request, "lots/progress.html", {"checking": checking, "lot": the_lot(pk)})


def _then(request, pk, sentence: str, to: str = "lot-check"):
    messages.success(request, sentence)
    return redirect(to, pk)


def _refused(request, pk, error: ValueError):
    messages.error(request, str(error))
    return redirect("lot-check", pk)


def _confirmed(count: int) -> str:
    return ngettext("%(count)d line is confirmed.", "%(count)d lines are confirmed.", count) % {
        "count": count
    }


@require_POST
def lot_sure(request, pk):
    try:
        count = confirm_sure(lot=the_lot(pk), by=request.user, at=timezone.now())
    except LotError as error:
        return _refused(request, pk, error)
    return _then(request, pk, _confirmed(count))


@require_POST
def lot_chosen(request, pk):
    said = {"by": request.user, "at": timezone.now()}
    try:
        count = confirm_chosen(lot=the_lot(pk), chosen=chosen_models(request.POST), **said)
    except LotError as error:
        return _refused(request, pk, error)
    return _then(request, pk, _confirmed(count))


@require_POST
def lot_answers(request, pk):
    """Take the answers that were given; what was left empty waits on."""
    lot = the_lot(pk)
    forms = [AnswerForm(request.POST, line=line) for line in checking_of(lot).asked]
    valid = [form.is_valid() for form in forms]
    if not all(valid):
        return _shown(request, lot, forms, status=422)
    at, count = timezone.now(), 0
    try:
        with transaction.atomic():
            for form in forms:
                count += _answered(form, request.user, at)
    except LotError as error:
        return _refused(request, pk, error)
    return _then(request, pk, _confirmed(count))


def _answered(form: AnswerForm, by, at) -> int:
    if form.cleaned_data.get("none"):
        drop_line(line=form.line, by=by, at=at)
        return 0
    if form.is_answered:
        settle_line(line=form.line, facts=form.facts(), by=by, at=at)
        return 1
    return 0


@require_POST
def lot_columns(request, pk, source):
    """Read a list again with what a person says of its columns."""
    found = get_object_or_404(LotSource.objects.defer("content"), pk=source, lot=pk)
    forms = [ColumnsForm(request.POST, part=part) for part in found.parts]
    roles = {form.part["place"]: form.changed_roles() for form in forms if form.is_valid()}
    try:
        with transaction.atomic():
            said = {"by": request.user, "at": timezone.now()}
            queue_reading(choose_columns(source=found, roles=roles, **said))
    except LotError as error:
        return _refused(request, pk, error)
    return _then(request, pk, _("The list is read again."))


@require_POST
def lot_again(request, pk, source):
    """Have a list read once more that could not be read."""
    found = get_object_or_404(LotSource.objects.defer("content"), pk=source, lot=pk)
    try:
        with transaction.atomic():
            queue_reading(read_again(source=found, by=request.user, at=timezone.now()))
    except LotError as error:
        return _refused(request, pk, error)
    return redirect("lot-check", pk)


@require_POST
def lot_row_line(request, pk, row):
    """A row that was taken for none is a line."""
    found = get_object_or_404(SourceRow, pk=row, source__lot=pk)
    try:
        line = make_line(lot=the_lot(pk), row=found, by=request.user, at=timezone.now())
    except LotError as error:
        return _refused(request, pk, error)
    return redirect("lot-line", pk, line.pk)


@require_POST
def lot_confirm(request, pk):
    said = {"on": timezone.localdate(), "by": request.user, "at": timezone.now()}
    try:
        confirm_list(lot=the_lot(pk), **said)
    except LotError as error:
        return _refused(request, pk, error)
    messages.success(request, _("The list is confirmed."))
    return redirect("lot", pk)


@require_http_methods(["GET", "POST"])
def lot_line(request, pk, line):
    lot = the_lot(pk)
    found = the_line(lot, line)
    form = LineForm(request.POST or None, line=found)
    if form.is_valid():
        try:
            settle_line(line=found, facts=form.facts(), by=request.user, at=timezone.now())
        except ValueError as error:
            show_refusal(form, error)
        else:
            return _then(request, pk, _("The line is confirmed."))
    context = {"lot": lot, "line": found, "form": form}
    return render(request, "lots/line_form.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def lot_line_add(request, pk):
    """A line by hand; ``?walk=1`` comes from the walk and goes back there."""
    lot, walking = the_lot(pk), "walk" in request.GET
    form = LineForm(request.POST or None)
    if form.is_valid():
        try:
            add_line(lot=lot, facts=form.facts(), by=request.user, at=timezone.now())
        except ValueError as error:
            show_refusal(form, error)
        else:
            to = "lot-walk" if walking else "lot-check"
            return _then(request, pk, _("The line is added."), to)
    context = {"lot": lot, "form": form, "walking": walking}
    return render(request, "lots/line_form.html", context, status=422 if form.errors else 200)


@require_POST
def lot_line_drop(request, pk, line):
    lot = the_lot(pk)
    try:
        drop_line(line=the_line(lot, line), by=request.user, at=timezone.now())
    except LotError as error:
        return _refused(request, pk, error)
    return _then(request, pk, _("The line is left out."))
