from django.contrib import messages
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from units.catalogue.models import Unit
from units.files.services import FileRefusedError
from units.plates.forms import PlateForm
from units.plates.services import ask_reading, record_plate


@require_http_methods(["GET", "POST"])
def add_plate(request, pk):
    unit = get_object_or_404(Unit.objects.with_identity(), pk=pk)
    known = {"maker": unit.maker.name, "number": unit.model.number}
    form = PlateForm(request.POST or None, request.FILES or None, initial=known)
    if request.method == "POST" and form.is_valid():
        try:
            _record(unit, form.cleaned_data, request.user)
        except FileRefusedError as error:
            form.add_error("photo", str(error))
        except ValueError as error:
            form.add_error(None, with_link(error))
        else:
            messages.success(request, _("The plate is recorded."))
            return redirect(reverse("machine", args=[pk]))
    status = 422 if form.errors else 200
    return render(request, "plates/plate_add.html", {"form": form, "unit": unit}, status=status)


@transaction.atomic
def _record(unit: Unit, said: dict, by) -> None:
    at = timezone.now()
    reading = said["reading"] or ask_reading(upload=said["photo"], urgent=False, by=by, at=at)
    record_plate(
        unit=unit,
        photo=reading.photo,
        maker_text=said["maker"],
        model_text=said["number"],
        serial_text=said["serial"],
        reading=reading,
        by=by,
        at=at,
    )


def with_link(error: ValueError) -> str:
    """The sentence, and a way to the machine that it speaks of."""
    other = getattr(error, "other", None)
    if other is None:
        return str(error)
    address = reverse("machine", args=[other.pk])
    return format_html('{} <a href="{}">{}</a>', str(error), address, other)
