from datetime import date, datetime, time

from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET

from parts.support.forms import DayForm
from parts.support.selectors import coverage_of
from parts.support.selectors.words import rows, sentence
from units.catalogue.models import MachineModel


@require_GET
def model_parts(request, pk):
    """What can be had for a model, component by component, on any day."""
    model = get_object_or_404(MachineModel.objects.select_related("maker", "kind"), pk=pk)
    if model.merged_into_id:
        return redirect("model-parts", pk=model.merged_into_id)
    form = DayForm(request.GET)
    on = form.day(timezone.localdate())
    known_at = _end_of(on) if form.is_entered else None
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
    return render(request, "support/model_parts.html", context, status=status)


def _end_of(on: date) -> datetime:
    return timezone.make_aware(datetime.combine(on, time.max))
