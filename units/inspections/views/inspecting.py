from django.contrib import messages
from django.db.models import Count, Sum
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST
from django.views.generic import DetailView
from django_filters.views import FilterView

from units.files.services import FileRefusedError
from units.inspections.filters import ProtocolFilter
from units.inspections.forms import StepForm, kept_answer
from units.inspections.models import Inspection, Protocol
from units.inspections.selectors import StepPage, Walk, inspection_sheet, walk
from units.inspections.services import InspectionError, finish_inspection, record_step


class ProtocolList(FilterView):
    queryset = (
        Protocol.objects.select_related("kind")
        .annotate(step_count=Count("steps"), minutes=(Sum("steps__seconds") + 59) / 60)
        .order_by("kind__position", "occasion", "-version")
    )
    filterset_class = ProtocolFilter
    paginate_by = 50


class ProtocolDetail(DetailView):
    queryset = Protocol.objects.select_related("kind").prefetch_related("steps__component")


class InspectionDetail(DetailView):
    queryset = Inspection.objects.with_identity()

    def get_context_data(self, **kwargs):
        return super().get_context_data(sheet=inspection_sheet(self.object), **kwargs)


def step(request, pk: int, position: int):
    """The steps of an inspection, one of them shown; or record its answer and go on to the next.

    All of them are in the page, so that its script goes on without a signal.
    """
    inspection = get_object_or_404(Inspection.objects.with_identity(), pk=pk)
    steps = walk(inspection)
    page = steps.at(position)
    if page is None:
        raise Http404
    if inspection.is_finished and request.method != "POST":
        return redirect("inspection", pk=pk)
    sent = (request.POST, request.FILES) if request.method == "POST" else (None, None)
    form = StepForm(*sent, step=page.step, initial=kept_answer(page.result, page.reading))
    if form.is_valid() and _recorded(request, page, form):
        if page.after:
            return redirect("inspection-step", pk=pk, position=page.after)
        return redirect("inspection", pk=pk)
    status = 422 if form.is_bound else 200
    context = {"walk": steps, "page": page, "form": form, "shown": position}
    context |= {"screens": _screens(steps, page, form)}
    return render(request, "inspections/step.html", context, status=status)


def _screens(steps: Walk, shown: StepPage, form: StepForm) -> list:
    """Each step beside its form; the one that is shown keeps what was sent to it."""
    screens = []
    for page in steps.pages:
        fresh = StepForm(step=page.step, initial=kept_answer(page.result, page.reading))
        screens.append((page, form if page is shown else fresh))
    return screens


def _recorded(request, page: StepPage, form: StepForm) -> bool:
    """Record a valid form; a refusal goes to the form and nothing is kept."""
    try:
        record_step(
            inspection=page.inspection,
            step=page.step,
            **form.given(),
            by=request.user,
            at=timezone.now(),
        )
    except FileRefusedError as error:
        form.add_error("photo", str(error))
    except InspectionError as error:
        form.add_error(form.asked if not page.inspection.is_finished else None, str(error))
    return form.is_valid()


@require_POST
def finish(request, pk: int):
    inspection = get_object_or_404(Inspection.objects.with_identity(), pk=pk)
    try:
        finish_inspection(inspection=inspection, by=request.user, at=timezone.now())
    except InspectionError as error:
        sheet = inspection_sheet(inspection)
        context = {"inspection": inspection, "sheet": sheet, "refusal": str(error)}
        return render(request, "inspections/inspection_detail.html", context, status=422)
    messages.success(request, _("The inspection is finished."))
    return redirect("inspection", pk=pk)
