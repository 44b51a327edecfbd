from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST
from django.views.decorators.vary import vary_on_headers
from django.views.generic import ListView

from units.catalogue.domain.keys import SerialError
from units.files.services import FileRefusedError
from units.plates.forms import ConfirmForm, PhotosToReadForm, WalkForm
from units.plates.models import PlateReading
from units.plates.selectors import loose_readings, open_walks, reading_page, situation_of, walk_row
from units.plates.services import PlateError, ask_again, ask_reading, confirm_reading, set_aside
from units.plates.views.records import with_link
from units.show.notices import tell


class PlateList(ListView):
    """Walks that go on, and photos of no walk that nobody confirmed, newest first."""

    template_name = "plates/plates.html"
    paginate_by = 50

    def get_queryset(self):
        return loose_readings()

    def get_context_data(self, **kwargs):
        forms = {"form": PhotosToReadForm(), "walk_form": WalkForm()}
        return super().get_context_data(walks=open_walks(), **forms, **kwargs)


@require_POST
@vary_on_headers("HX-Request")
def read_photos(request):
    """Ask for one photo as a part of a page, or for several and go on to where they are shown."""
    form = PhotosToReadForm(request.POST, request.FILES)
    asked = _ask_each(form, request.user) if form.is_valid() else []
    if not asked:
        template = "plates/read.html#refused" if request.htmx else "plates/read.html"
        return render(request, template, {"form": form}, status=422)
    if request.htmx:
        return _part(request, asked[0])
    for sentence in form.errors.get("photo", []):
        messages.error(request, sentence)
    if walk := form.cleaned_data["walk"]:
        return redirect(reverse("plate-walk", args=[walk.pk]) + "#rows")
    return redirect("plates") if len(asked) > 1 else redirect("plate-reading", pk=asked[0].pk)


def _ask_each(form: PhotosToReadForm, by) -> list[PlateReading]:
    """The readings of those photos that can be kept; of the others a sentence at the field."""
    uploads: list[UploadedFile] = form.cleaned_data["photo"]
    walk, asked = form.cleaned_data["walk"], []
    for upload in uploads:
        try:
            asked.append(ask_reading(upload=upload, walk=walk, by=by, at=timezone.now()))
        except FileRefusedError as error:
            form.add_error("photo", str(error))
    return asked


@require_GET
@vary_on_headers("HX-Request")
def show_reading(request, pk):
    """One photo. A part of the page asks again until there is more to say than it has ``seen``."""
    reading = get_object_or_404(PlateReading.objects.with_pictures(), pk=pk)
    if request.htmx:
        if request.GET.get("seen") == situation_of(reading, timezone.now()):
            return HttpResponse(status=204)
        return _part(request, reading)
    return render(request, "plates/reading.html", _context(reading))


@require_POST
@vary_on_headers("HX-Request")
def confirm(request, pk):
    reading = get_object_or_404(PlateReading.objects.with_pictures(), pk=pk)
    context, at = _context(reading, request.POST), timezone.now()
    form = context["hand" if "by_hand" in request.POST else "form"]
    if form.is_valid():
        try:
            record = confirm_reading(reading=reading, by=request.user, at=at, **form.confirmed())
        except SerialError as error:
            form.add_error("serial", str(error))
        except ValueError as error:
            form.add_error(None, with_link(error))
        else:
            return _confirmed(request, reading, record, at)
    if request.htmx and reading.walk:
        errors = [sentence for field in form.errors.values() for sentence in field]
        return _row(request, reading, errors=errors)
    return render(request, "plates/reading.html", context, status=422)


def _confirmed(request, reading, record, at) -> HttpResponse:
    if request.htmx and reading.walk:
        return _row(request, reading)
    done = _("The plate of %(machine)s is recorded.") % {"machine": record.unit}
    tell(request, done, written_at=record.confirmed_at, at=at)
    if reading.walk:
        return redirect(f"{reverse('plate-walk', args=[reading.walk_id])}#row-{reading.pk}")
    return redirect(reverse("machine", args=[record.unit_id]))


@require_POST
def read_again(request, pk):
    reading = get_object_or_404(PlateReading, pk=pk)
    try:
        ask_again(reading=reading, by=request.user, at=timezone.now())
    except PlateError as error:
        messages.error(request, str(error))
    return redirect("plate-reading", pk=pk)


@require_POST
def put_aside(request, pk):
    reading = get_object_or_404(PlateReading.objects.select_related("walk"), pk=pk)
    try:
        set_aside(reading=reading, by=request.user, at=timezone.now())
    except PlateError as error:
        messages.error(request, str(error))
        return redirect("plate-reading", pk=pk)
    messages.success(request, _("The photo is set aside. It can still be confirmed from here."))
    return redirect("plate-walk", pk=reading.walk_id) if reading.walk_id else redirect("plates")


def _part(request, reading: PlateReading) -> HttpResponse:
    """A photo inside another page: as a row of a walk, for a form to be filled, or as it stands."""
    reading = PlateReading.objects.with_pictures().get(pk=reading.pk)
    if request.POST.get("walk"):
        return _row(request, reading)
    filling = "fill" in (request.POST.get("as"), request.GET.get("as"))
    template = "plates/reading_fill.html" if filling else "plates/reading_part.html"
    return render(request, template, _context(reading))


def _row(request, reading: PlateReading, errors=()) -> HttpResponse:
    context = {"row": walk_row(reading), "errors": errors}
    response = render(request, "plates/walk_row.html", context, status=422 if errors else 200)
    # The line that says how far the walk is looks again.
    response["HX-Trigger"] = "walk-changed"
    return response


def _context(reading: PlateReading, sent=None) -> dict:
    """What the pages and parts of one photo show; ``sent`` is what a person confirms.

    ``hand`` is the form for whoever types while the reader is at work: it knows of no proposal, so
    that what was typed is judged as typed.
    """
    page = reading_page(reading)
    situation = situation_of(reading, timezone.now())
    by_hand = sent if sent and "by_hand" in sent else None
    proposed = sent if by_hand is None else None
    return {
        "reading": reading,
        "page": page,
        "situation": situation,
        "waits": situation in ("waiting", "slow"),
        "form": ConfirmForm(proposed, proposal=page.proposal, catalogued=page.catalogued),
        "hand": ConfirmForm(by_hand, auto_id="hand_%s"),
    }
