"""The measuring tools, and the readings that were kept with a machine."""

from django.conf import settings
from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from units.catalogue.models import Unit
from units.inspections.domain.measures.outside import SYSTEMS
from units.inspections.domain.measures.tools import TOOLS, tools_for
from units.inspections.forms import FORMS, KeepForm, WithdrawReadingForm
from units.inspections.models import Inspection, MeasureReading
from units.inspections.selectors import assumed, measured, tell, tool_page
from units.inspections.services import InspectionError, record_reading, withdraw_reading
from units.show.notices import tell as tell_once


def system_of(request) -> str:
    """us or metric: as the address says, else as the session or the shop does."""
    asked = request.GET.get("measures")
    if asked in SYSTEMS:
        request.session["measures"] = asked
    return request.session.get("measures") or settings.MEASURES


def subject_of(request) -> tuple[Unit | None, Inspection | None]:
    """The machine and the inspection that the address names; none is fine, a wrong one is not."""
    unit, inspection = request.GET.get("unit", ""), request.GET.get("inspection", "")
    if inspection:
        found = _named(Inspection.objects.with_identity(), inspection)
        return found.unit, found
    return (_named(Unit.objects.with_identity(), unit) if unit else None), None


def step_of(request) -> str:
    """The position of the step from which a tool was opened; empty where it was from none."""
    step = request.GET.get("step", "")
    return step if step.isascii() and step.isdecimal() and len(step) < 5 else ""


def way_back(request, unit: Unit | None, inspection: Inspection | None) -> str:
    """Where the tool was opened from: a step, an inspection, a machine; empty of none."""
    if inspection is None:
        return unit.get_absolute_url() if unit else ""
    step = step_of(request)
    if step:
        return reverse("inspection-step", args=[inspection.pk, step])
    return reverse("inspection", args=[inspection.pk])


def _named(rows, text: str):
    if not text.isdecimal() or len(text) > 18:
        raise Http404
    return get_object_or_404(rows, pk=int(text))


@require_GET
def measuring_tools(request):
    unit, inspection = subject_of(request)
    context = {
        "tools": tools_for(unit and unit.model.kind_id),
        "unit": unit,
        "inspection": inspection,
    }
    return render(request, "inspections/measuring_tools.html", context)


@require_http_methods(["GET", "POST"])
def measuring_tool(request, slug):
    """A tool's fields (GET), what they give (GET with ``work``), and the yes to keep it (POST)."""
    tool, system = TOOLS.get(slug), system_of(request)
    if tool is None:
        raise Http404
    unit, inspection = subject_of(request)
    worked = request.GET if "work" in request.GET else None
    page = tool_page(tool, unit, inspection, system)
    form = FORMS[slug](worked, system=system, initial=page["start"])
    outcome = tool.work(form.given()) if form.is_valid() else None
    keep = KeepForm(request.POST or None, for_baseline=tool.name == "current")
    if request.method == "POST" and unit and outcome and keep.is_valid():
        kept = _kept(request, keep, unit, inspection, tool, outcome, form.inputs())
        if kept:
            return redirect(way_back(request, unit, inspection))
    told = tell(outcome, system) if outcome else None
    status = 422 if form.errors or request.method == "POST" else 200
    context = page | {"form": form, "keep": keep, "told": told}
    context |= {"back": way_back(request, unit, inspection), "step": step_of(request)}
    context |= {"assumed": assumed(tool, form.used, system)}
    return render(request, "inspections/measuring_tool.html", context, status=status)


def _kept(request, keep, unit, inspection, tool, outcome, inputs) -> bool:
    at = timezone.now()
    try:
        reading = record_reading(
            unit=unit,
            inspection=inspection,
            tool=tool,
            outcome=outcome,
            inputs=inputs,
            **keep.cleaned_data,
            by=request.user,
            at=at,
        )
    except InspectionError as error:
        keep.add_error(None, str(error))
        return False
    tell_once(
        request, _("The reading is kept with the machine."), written_at=reading.taken_at, at=at
    )
    return True


@require_GET
def machine_measures(request, pk):
    """A machine's measures; the lines alone where they are fetched into another page."""
    unit = get_object_or_404(Unit.objects.with_identity(), pk=pk)
    document = request.GET.get("document", "")[:40]
    series = measured(unit, document, system_of(request))
    context = {"unit": unit, "series": series, "document": document}
    template = "inspections/machine_measures.html"
    return render(request, f"{template}#lines" if request.htmx else template, context)


@require_http_methods(["GET", "POST"])
def withdraw_measure(request, pk):
    rows = MeasureReading.objects.select_related("unit__model__maker", "unit__model__kind")
    reading = get_object_or_404(rows, pk=pk)
    form = WithdrawReadingForm(request.POST or None)
    if form.is_valid():
        try:
            withdraw_reading(
                reading=reading, **form.cleaned_data, by=request.user, at=timezone.now()
            )
        except InspectionError as error:
            form.add_error("reason", str(error))
        else:
            messages.success(request, _("The reading does not count any more."))
            return redirect("machine-measures", pk=reading.unit_id)
    context = {"form": form, "reading": reading, "unit": reading.unit}
    status = 422 if form.errors else 200
    return render(request, "inspections/measure_withdraw.html", context, status=status)
