from datetime import datetime

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from shop.work.forms.labour import TakePartForm, TimeForm
from shop.work.models import PartUse, WorkOrder
from shop.work.selectors.estimates import parts_to_offer
from shop.work.selectors.inspections import final_test_of
from shop.work.services.agreed import beyond_the_yes, unasked
from shop.work.services.bench import Bench
from shop.work.services.errors import OverLimitError
from shop.work.services.labour import add_time, start_work
from shop.work.services.parts_used import put_back_part, take_part
from shop.work.views.acting import REFUSALS, attempt, refuse
from units.show.notices import tell


def _job(number) -> WorkOrder:
    return get_object_or_404(WorkOrder.objects.with_machine(), number=number)


@require_POST
def work_start(request, number):
    job = _job(number)
    done = _("Job %(number)s is in work.") % {"number": number}
    return attempt(
        request, lambda: start_work(job=job, by=request.user, at=timezone.now()), done, number
    )


@require_http_methods(["GET", "POST"])
def part_take(request, number):
    job = _job(number)
    form, over_limit = TakePartForm(request.POST or None, lines=Bench(job).lines_to_take), False
    if form.is_valid():
        at = timezone.now()
        try:
            use = take_part(job=job, **form.taken(), by=request.user, at=at)
        except REFUSALS as error:
            refuse(form, error)
            over_limit = isinstance(error, OverLimitError)
        else:
            return _taken(request, job, use, at)
    elif use := _taken_before(job, form):
        return _taken(request, job, use, timezone.now())
    context = {"form": form, "job": job, "over_limit": over_limit, "fits": parts_to_offer(job)}
    return render(request, "work/part_take.html", context, status=422 if form.errors else 200)


def _taken_before(job: WorkOrder, form: TakePartForm) -> PartUse | None:
    """What the same form took when it was sent first: since then its line may be no choice."""
    key = form.cleaned_data.get("key") if form.is_bound else None
    return PartUse.objects.filter(job=job, key=key).first() if key else None


def _taken(request, job: WorkOrder, use: PartUse, at: datetime):
    words = {"part": use.move.part, "bin": use.move.bin}
    done = _("Taken: %(part)s, from bin %(bin)s.") % words
    tell(request, done, written_at=use.move.recorded_at, at=at)
    if question := unasked(Bench(job), use):
        messages.warning(request, question)
    return redirect("job", number=job.number)


@require_POST
def part_put_back(request, number, pk):
    use = get_object_or_404(PartUse, job__number=number, pk=pk)
    return attempt(
        request,
        lambda: put_back_part(use=use, by=request.user, at=timezone.now()),
        _("The part is back on the shelf."),
        number,
    )


@require_http_methods(["GET", "POST"])
def time_add(request, number):
    job = _job(number)
    form = TimeForm(request.POST or None)
    if form.is_valid():
        at = timezone.now()
        try:
            entry = add_time(job=job, **form.cleaned_data, by=request.user, at=at)
        except REFUSALS as error:
            refuse(form, error)
        else:
            tell(request, _("The time is written."), written_at=entry.recorded_at, at=at)
            if beyond := beyond_the_yes(Bench(job), timezone.localdate()):
                messages.warning(request, str(beyond))
            return redirect("job", number=number)
    context = {"form": form, "job": job, "test": final_test_of(Bench(job).inspections)}
    return render(request, "work/time_add.html", context, status=422 if form.errors else 200)
