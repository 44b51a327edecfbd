from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from shop.people.seats import OWNER
from shop.work.forms.warranty import CameBackForm, TermForm
from shop.work.models import WarrantyTerm, WorkOrder
from shop.work.selectors.warranty import repeat_failures, standing_of, standing_on
from shop.work.services.warranty import open_warranty_job, set_warranty_term
from shop.work.views.acting import REFUSALS, refuse
from units.show.notices import tell


@require_GET
def warranty_list(request):
    """For whom we still stand, and how often our repairs came back."""
    on = timezone.localdate()
    standing = [(one, one.running(on)) for one in standing_on(on)]
    context = {
        "standing": standing,
        "repeats": repeat_failures(),
        "terms": WarrantyTerm.objects.all(),
    }
    return render(request, "work/warranty_list.html", context)


@require_http_methods(["GET", "POST"])
def warranty_add(request, number):
    first = get_object_or_404(WorkOrder.objects.with_machine(), number=number)
    form = CameBackForm(request.POST or None, owner=OWNER in request.seats)
    if form.is_valid():
        key, at = form.cleaned_data["key"], timezone.now()
        try:
            job = open_warranty_job(first=first, back=form.back(), key=key, by=request.user, at=at)
        except ValueError as error:
            refuse(form, error)
        else:
            done = _("Job %(number)s is open under our warranty.") % {"number": job.number}
            tell(request, done, written_at=job.opened_at, at=at)
            return redirect("job", number=job.number)
    context = {"form": form, "job": first, "standing": standing_of(first)}
    return render(request, "work/warranty_add.html", context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def warranty_term(request):
    form = TermForm(request.POST or None)
    if form.is_valid():
        try:
            set_warranty_term(**form.cleaned_data)
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("The term is written down."))
            return redirect("warranty-list")
    context = {"form": form}
    return render(request, "work/warranty_term.html", context, status=422 if form.errors else 200)
