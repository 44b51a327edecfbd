from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from shop.work.forms.promises import CollectionForm, KeepForm, StorageForm
from shop.work.models import WorkOrder
from shop.work.selectors.left_standing import left_standing as standing_on
from shop.work.selectors.left_standing import storage_rule_on
from shop.work.services.left_standing import give_notice, keep_machine, set_storage_rule
from shop.work.views.acting import REFUSALS, refuse
from units.show.notices import tell


@require_GET
def left_standing(request):
    """Finished machines that were not collected, longest first."""
    on = timezone.localdate()
    context = {"standing": standing_on(on), "rule": storage_rule_on(on)}
    return render(request, "work/left_standing.html", context)


@require_http_methods(["GET", "POST"])
def collection_notice(request, number):
    job = get_object_or_404(WorkOrder.objects.with_machine(), number=number)
    form = CollectionForm(request.POST or None)
    if form.is_valid():
        at = timezone.now()
        try:
            notice = give_notice(job=job, **form.cleaned_data, by=request.user, at=at)
        except REFUSALS as error:
            refuse(form, error)
        else:
            tell(request, _("The notice is written down."), written_at=notice.written_at, at=at)
            return redirect("job", number=number)
    context = {"form": form, "job": job, "given": job.collection_notices.all()}
    context["rule"] = storage_rule_on(timezone.localdate())
    return render(request, "work/collection.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def keep(request, number):
    job = get_object_or_404(WorkOrder.objects.with_machine(), number=number)
    form = KeepForm(request.POST or None, job=job)
    if form.is_valid():
        try:
            keep_machine(job=job, **form.cleaned_data, by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("The machine is in our own stock."))
            return redirect("job", number=number)
    context = {"form": form, "job": job}
    return render(request, "work/machine_keep.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def storage_rule(request):
    form = StorageForm(request.POST or None)
    if form.is_valid():
        try:
            set_storage_rule(**form.cleaned_data)
        except REFUSALS as error:
            refuse(form, error)
        else:
            return redirect("left-standing")
    context = {"form": form}
    return render(request, "work/storage_rule.html", context, status=422 if form.errors else 200)
