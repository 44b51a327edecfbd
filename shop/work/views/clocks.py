import uuid

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from shop.work.forms.labour import ClockForm
from shop.work.models import Clock, WorkOrder
from shop.work.services.agreed import beyond_the_yes
from shop.work.services.bench import Bench
from shop.work.services.clocks import start_clock, stop_clock
from shop.work.views.acting import REFUSALS, attempt, refuse
from units.show.words import minutes as written


@require_POST
def clock_start(request, number):
    """The key is made here: a second press finds the clock running, which is what was wanted."""
    job = get_object_or_404(WorkOrder, number=number)
    running = Clock.objects.filter(job=job, technician=request.user, stopped_at=None).first()
    key, at = running.key if running else uuid.uuid4(), timezone.now()
    done = _("Your clock runs on job %(number)s.") % {"number": number}
    return attempt(
        request, lambda: start_clock(job=job, key=key, by=request.user, at=at), done, number
    )


@require_http_methods(["GET", "POST"])
def clock_stop(request, pk):
    clocks = Clock.objects.select_related("job__unit__model__maker", "technician", "entry")
    clock = get_object_or_404(clocks, pk=pk)
    job, form = clock.job, ClockForm(request.POST or None)
    if form.is_valid():
        said, at = form.cleaned_data, timezone.now()
        try:
            stopped = stop_clock(clock=clock, **said, by=request.user, at=at)
        except REFUSALS as error:
            refuse(form, error)
        else:
            time = written(stopped.entry.minutes) if stopped.entry else _("no time")
            messages.success(request, _("The clock wrote %(time)s.") % {"time": time})
            if beyond := beyond_the_yes(Bench(job), timezone.localdate()):
                messages.warning(request, str(beyond))
            return redirect("job", number=job.number)
    context = {"form": form, "job": job, "stopping": clock}
    return render(request, "work/clock_stop.html", context, status=422 if form.errors else 200)
