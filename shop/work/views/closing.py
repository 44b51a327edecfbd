from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from shop.people.seats import OWNER
from shop.work.forms.closing import CancelForm, CloseForm
from shop.work.models import Notice, WorkOrder
from shop.work.services.bench import Bench
from shop.work.services.closing import cancel_job, close_job, missing_for_repair
from shop.work.services.steps import as_it_stands
from shop.work.views.acting import REFUSALS, refuse


def _job(number) -> WorkOrder:
    return get_object_or_404(WorkOrder.objects.with_machine(), number=number)


def _over(request, job):
    """Another tab was quicker: say who did what and when."""
    messages.warning(request, as_it_stands(job))
    return redirect("job", number=job.number)


@require_http_methods(["GET", "POST"])
def job_close(request, number):
    job = _job(number)
    if job.is_over:
        return _over(request, job)
    bench = Bench(job)
    form = CloseForm(request.POST or None, bench=bench, owner=OWNER in request.seats)
    if form.is_valid():
        try:
            closed = close_job(job=job, ending=form.ending(), by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            words = {"number": number, "outcome": closed.get_outcome_display()}
            messages.success(request, _("Job %(number)s is closed: %(outcome)s.") % words)
            return redirect("job", number=number)
    missing = missing_for_repair(bench, timezone.localdate())
    context = {"form": form, "job": job, "missing": missing}
    return render(request, "work/close.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def job_cancel(request, number):
    job = _job(number)
    if job.is_over:
        return _over(request, job)
    form = CancelForm(request.POST or None, job=job)
    if form.is_valid():
        said = {"left": False} | form.cleaned_data
        try:
            cancel_job(job=job, **said, by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("Job %(number)s is cancelled.") % {"number": number})
            return redirect("job", number=number)
    context = {"form": form, "job": job}
    return render(request, "work/cancel.html", context, status=422 if form.errors else 200)


@require_GET
def notice(request, number):
    notices = Notice.objects.select_related(
        "job__unit__model__maker", "job__unit__maker", "job__owner", "job__payer", "written_by"
    )
    notice = get_object_or_404(notices, job__number=number)
    return render(request, "work/notice.html", {"notice": notice, "job": notice.job})
