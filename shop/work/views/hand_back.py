from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from shop.work.forms.hand_back import HandBackForm
from shop.work.models import WorkOrder
from shop.work.selectors.estimates import sums_of
from shop.work.services.hand_back import hand_back as give_back
from shop.work.services.hand_back import lines_to_bill, storage_lines
from shop.work.services.steps import as_it_stands
from shop.work.views.acting import REFUSALS, refuse
from units.recalls.selectors import newest_checks


@require_http_methods(["GET", "POST"])
def hand_back(request, number):
    jobs = WorkOrder.objects.with_machine().select_related("notice")
    job = get_object_or_404(jobs, number=number)
    if job.state != WorkOrder.State.CLOSED or job.purpose == WorkOrder.Purpose.OWN:
        messages.warning(request, as_it_stands(job))
        return redirect("job", number=number)
    things, storage = job.came_along.all(), storage_lines(job, timezone.localdate())
    form = HandBackForm(request.POST or None, job=job, things=things, storage=storage)
    if form.is_valid():
        try:
            give_back(job=job, leaving=form.leaving(), by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("The machine is handed back."))
            return redirect("job", number=number)
    return _page(request, job, form, storage)


def _page(request, job, form, storage):
    on = timezone.localdate()
    lines = lines_to_bill(job, on) + storage
    context = {
        "form": form,
        "job": job,
        "lines": lines,
        "sums": sums_of(lines, job.payer_or_owner, on),
        "recall": newest_checks([job.unit]).get(job.unit_id) if job.unit else None,
    }
    return render(request, "work/hand_back.html", context, status=422 if form.errors else 200)
