import uuid

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from shop.floor.models import Stay
from shop.work.forms.intake import IntakeForm, PurchaseForm
from shop.work.models import WorkOrder
from shop.work.selectors.jobs import machine_history
from shop.work.selectors.recalls import open_recalls
from shop.work.services.errors import JobError
from shop.work.services.intake import buy_machine, log_in, open_own_job
from units.show.codes import code_of
from units.show.notices import tell

FIELDS = {
    "SerialError": "serial",
    "PhoneError": "new_phone",
    "PersonError": "new_name",
    "FileRefusedError": "plate_photo",
}


def _answered(form, error: ValueError) -> None:
    """Put a refusal at the field it speaks of, with a link to the job that stands in the way."""
    job = getattr(error, "job", None)
    text = str(error)
    if job:
        text = format_html('{} <a href="{}">{}</a>', text, reverse("job", args=[job.number]), job)
    form.add_error(FIELDS.get(type(error).__name__), text)


def _page(request, form, template):
    return render(request, template, {"form": form}, status=422 if form.errors else 200)


# What a link to an empty form may fill in.
LINKED = ("who", "maker", "number", "serial")


def _empty(form_class, request):
    """A form as first shown, or as typed so far when only the search was pressed."""
    if request.method == "POST":
        typed = {name: request.POST.get(name, "") for name in form_class.base_fields}
        typed["came_along"] = request.POST.getlist("came_along")
        return form_class(initial=typed | {"customer": ""})
    return form_class(initial={name: request.GET[name] for name in LINKED if name in request.GET})


@require_http_methods(["GET", "POST"])
def intake(request):
    if request.method == "GET" or "find" in request.POST:
        return _page(request, _empty(IntakeForm, request), "work/intake.html")
    form = IntakeForm(request.POST, request.FILES)
    if form.is_valid():
        at = timezone.now()
        try:
            job = log_in(
                person=form.person(),
                machine=form.machine(),
                errand=form.errand(),
                key=form.cleaned_data["key"],
                by=request.user,
                at=at,
            )
        except ValueError as error:
            _answered(form, error)
        else:
            done = _("Job %(number)s is logged in.") % {"number": job.number}
            tell(request, done, written_at=job.opened_at, at=at)
            return redirect("job", number=job.number)
    return _page(request, form, "work/intake.html")


@require_http_methods(["GET", "POST"])
def purchase_add(request):
    if request.method == "GET" or "find" in request.POST:
        return _page(request, _empty(PurchaseForm, request), "work/purchase.html")
    form = PurchaseForm(request.POST, request.FILES)
    if form.is_valid():
        key, at = form.cleaned_data["key"], timezone.now()
        try:
            stay = buy_machine(
                seller=form.person(),
                machine=form.machine(),
                price=form.cleaned_data["price"],
                came_along=form.cleaned_data["came_along"],
                key=key,
                by=request.user,
                at=at,
            )
        except ValueError as error:
            _answered(form, error)
        else:
            done, job = _("The machine is in our own stock."), stay.jobs.get(key=key)
            tell(request, done, written_at=job.opened_at, at=at)
            return redirect("machine", pk=stay.unit_id)
    return _page(request, form, "work/purchase.html")


@require_GET
def intake_history(request):
    """What we know of the serial that is being typed: a part of the intake page."""
    history = machine_history(request.GET.get("maker", ""), request.GET.get("serial", ""))
    return render(request, "work/history.html", {"history": history})


@require_GET
def ticket(request, number):
    jobs = WorkOrder.objects.with_machine().select_related("opened_by", "warranty_of")
    job = get_object_or_404(jobs.prefetch_related("came_along"), number=number)
    return render(request, "work/ticket.html", {"job": job, "recalls": open_recalls(job.unit)})


@require_GET
def ticket_code(request, number):
    """The QR code of a ticket: the address that opens the job for whoever is signed in."""
    job = get_object_or_404(WorkOrder, number=number)
    return code_of(request, reverse("job-link", args=[job.number]))


@require_POST
def own_job_add(request, pk):
    """Open a job on a machine of ours; where one is open already, lead there and say so."""
    stay = get_object_or_404(Stay, pk=pk)
    try:
        job = open_own_job(
            stay=stay,
            complaint=request.POST.get("complaint", "").strip() or _("Inspect and put right."),
            key=uuid.uuid4(),
            by=request.user,
            at=timezone.now(),
        )
    except JobError as error:
        messages.error(request, str(error))
        if error.job is None:
            return redirect("machine", pk=stay.unit_id)
        job = error.job
    return redirect("job", number=job.number)
