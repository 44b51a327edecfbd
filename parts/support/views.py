from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET
from django.views.decorators.vary import vary_on_headers

from parts.answers.selectors import evening_of
from parts.fits.models import Part
from parts.support.forms import DayForm
from parts.support.selectors import coverage_of
from parts.support.selectors.part import part_had as known_of_part
from parts.support.selectors.words import rows, sentence
from units.catalogue.models import MachineModel


@require_GET
@vary_on_headers("HX-Request")
def model_parts(request, pk):
    """What can be had for a model, component by component, on any day; as a part of another page
    the one sentence that this comes to."""
    model = get_object_or_404(MachineModel.objects.select_related("maker", "kind"), pk=pk)
    if model.merged_into_id:
        return redirect("model-parts", pk=model.merged_into_id)
    form = DayForm(request.GET)
    on = form.day(timezone.localdate())
    known_at = evening_of(on) if form.is_entered else None
    covered = coverage_of([model], on, known_at)[pk]
    context = {
        "model": model,
        "form": form,
        "covered": covered,
        "sentence": sentence(covered.coverage),
        "rows": rows(covered.coverage),
        "percent": round(100 * covered.holds),
        "past": on < timezone.localdate(),
    }
    status = 422 if form.errors else 200
    template = "support/model_parts.html"
    return render(request, f"{template}#told" if request.htmx else template, context, status=status)


@require_GET
@vary_on_headers("HX-Request")
def part_had(request, pk):
    """Whether a part can be had, and who said so; also fetched by the part's own page."""
    part = get_object_or_404(Part.objects.select_related("component", "maker"), pk=pk)
    context = {"part": part, "found": known_of_part(part, timezone.localdate())}
    template = "support/part_had.html"
    return render(request, f"{template}#had" if request.htmx else template, context)
