from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST
from django_filters.views import FilterView

from parts.buying.selectors import proposed_orders, shortages
from shop.work.filters import WorkOrderFilter
from shop.work.models import WorkOrder
from shop.work.selectors.jobs import job_page
from shop.work.selectors.waiting import parts_wanted
from shop.work.services.errors import JobError
from shop.work.services.inspecting import inspect_job
from units.inspections.selectors import inspection_sheet
from units.inspections.services import InspectionError


class JobList(FilterView):
    filterset_class = WorkOrderFilter
    queryset = WorkOrder.objects.with_machine()
    template_name = "work/job_list.html"
    context_object_name = "jobs"
    paginate_by = 50


@require_GET
def job(request, number):
    try:
        page = job_page(number)
    except WorkOrder.DoesNotExist as error:
        raise Http404 from error
    return render(request, "work/job.html", {"page": page, "job": page.job, "next": page.waiting})


@require_GET
def job_link(request, number):
    """Where the code on a ticket leads."""
    return redirect("job", number=number)


@require_POST
def job_inspect(request, number):
    job = get_object_or_404(WorkOrder, number=number)
    try:
        inspection = inspect_job(
            job=job, occasion=request.POST.get("occasion", ""), by=request.user, at=timezone.now()
        )
    except (JobError, InspectionError) as error:
        messages.error(request, str(error))
        return redirect("job", number=number)
    following = inspection_sheet(inspection).next_step
    if following is None:
        return redirect("inspection", pk=inspection.pk)
    return redirect("inspection-step", pk=inspection.pk, position=following.position)


@require_GET
def parts_to_order(request):
    """What approved jobs need that neither the shelf nor an order covers, by supplier."""
    on = timezone.localdate()
    context = {
        "title": _("Parts to order for approved jobs"),
        "lead": _("What was approved and not taken yet, less the shelf and what is on its way."),
        "nothing": _("The shelf and the orders cover every approved job."),
        "groups": proposed_orders(shortages(parts_wanted(), on), on),
    }
    return render(request, "buying/wanted.html", context)
