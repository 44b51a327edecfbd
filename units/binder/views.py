from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from units.binder.forms import CodeForm, FileForm, NoteForm, TakeOutForm
from units.binder.models import BenchNote, ErrorCode, ModelFile
from units.binder.services import (
    BinderError,
    add_file,
    pin_note,
    record_error_code,
    take_out,
    write_note,
)
from units.catalogue.models import MachineModel
from units.files.services import FileRefusedError
from units.show.notices import tell

ENTRIES = {"paper": ModelFile, "note": BenchNote, "code": ErrorCode}
REFUSALS = (BinderError, FileRefusedError)


def _model(pk) -> MachineModel:
    return get_object_or_404(MachineModel.objects.select_related("maker", "kind"), pk=pk)


def _page(request, template: str, form, **context) -> HttpResponse:
    status = 422 if form.errors else 200
    return render(request, f"binder/{template}.html", {"form": form, **context}, status=status)


@require_http_methods(["GET", "POST"])
def file_add(request, pk):
    model = _model(pk)
    form = FileForm(request.POST or None, request.FILES or None)
    if form.is_valid():
        try:
            add_file(model=model, **form.cleaned_data, by=request.user, at=timezone.now())
        except REFUSALS as error:
            form.add_error("upload", str(error))
        else:
            messages.success(request, _("The paper is in the binder."))
            return redirect(model)
    return _page(request, "file_add", form, model=model)


@require_http_methods(["GET", "POST"])
def note_add(request, pk):
    model, at = _model(pk), timezone.now()
    # A link may say what is to be written: ``?sort=service-mode``.
    form = NoteForm(request.POST or None, initial=request.GET.dict())
    if form.is_valid():
        try:
            note = write_note(model=model, **form.cleaned_data, by=request.user, at=at)
        except BinderError as error:
            form.add_error("text", str(error))
        else:
            tell(request, _("The note is in the binder."), written_at=note.written_at, at=at)
            return redirect(model)
    return _page(request, "note_add", form, model=model)


@require_http_methods(["GET", "POST"])
def code_add(request, pk):
    model = _model(pk)
    form = CodeForm(request.POST or None, model=model)
    if form.is_valid():
        try:
            record_error_code(model=model, **form.cleaned_data, by=request.user, at=timezone.now())
        except BinderError as error:
            form.add_error("code", str(error))
        else:
            messages.success(request, _("The code is in the binder."))
            return redirect(model)
    return _page(request, "code_add", form, model=model)


@require_POST
def note_pin(request, pk):
    """``pinned`` is 1 to put a note on top, anything else to take it from there."""
    note = get_object_or_404(BenchNote.objects.select_related("model__maker"), pk=pk)
    pinned = request.POST.get("pinned") == "1"
    pin_note(note=note, pinned=pinned, by=request.user, at=timezone.now())
    done = _("The note stands on top.") if pinned else _("The note is no longer on top.")
    messages.success(request, done)
    return redirect(note.model)


@require_http_methods(["GET", "POST"])
def entry_take_out(request, sort, pk):
    if sort not in ENTRIES:
        raise Http404
    entry = get_object_or_404(ENTRIES[sort].objects.select_related("model__maker"), pk=pk)
    form = TakeOutForm(request.POST or None)
    if form.is_valid():
        try:
            take_out(entry=entry, **form.cleaned_data, by=request.user, at=timezone.now())
        except BinderError as error:
            form.add_error("reason", str(error))
        else:
            messages.success(request, _("It is no longer in the binder."))
            return redirect(entry.model)
    return _page(request, "take_out", form, model=entry.model, entry=entry)
