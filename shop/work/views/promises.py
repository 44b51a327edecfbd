from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from shop.work.forms.promises import AssignForm, HoursForm, PromiseForm
from shop.work.models import WorkOrder
from shop.work.selectors.workload import workload as load_of
from shop.work.services.promising import assign_job, promise_day, set_bench_hours
from shop.work.views.acting import REFUSALS, refuse


@require_GET
def workload(request):
    """What was promised, what is late, and how full the bench is."""
    return render(request, "work/workload.html", {"load": load_of(timezone.localdate())})


@require_http_methods(["GET", "POST"])
def promise(request, number):
    job = get_object_or_404(WorkOrder.objects.with_machine(), number=number)
    form = PromiseForm(request.POST or None, initial={"promised_on": job.promised_on})
    if form.is_valid():
        try:
            promise_day(job=job, **form.cleaned_data, by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("The promise is written down."))
            return redirect("job", number=number)
    context = {"form": form, "job": job}
    return render(request, "work/promise.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def assign(request, number):
    """Whose week a job takes."""
    job = get_object_or_404(WorkOrder.objects.with_machine(), number=number)
    form = AssignForm(request.POST or None, initial={"technician": job.technician_id})
    if form.is_valid():
        try:
            assign_job(job=job, **form.cleaned_data, by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("It is written down whose job this is."))
            return redirect("job", number=number)
    context = {"form": form, "job": job}
    return render(request, "work/assign.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def bench_hours(request):
    form = HoursForm(request.POST or None)
    if form.is_valid():
        try:
            set_bench_hours(**form.hours_set())
        except REFUSALS as error:
            refuse(form, error)
        else:
            return redirect("workload")
    context = {"form": form}
    return render(request, "work/bench_hours.html", context, status=422 if form.errors else 200)
