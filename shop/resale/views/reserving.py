"""A machine is held for one customer against a deposit."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from parts.days.services import DayClosedError
from shop.floor.models import Stay
from shop.resale.forms import ReleaseForm, ReservationForm
from shop.resale.models import Reservation
from shop.resale.selectors import reservation_of
from shop.resale.services import ResaleError, release_reservation, reserve_machine
from shop.resale.views.leaving import field_of
from shop.resale.views.looking import of_our_own, page_of
from shop.till.services import TillError
from units.show.notices import tell


@require_http_methods(["GET", "POST"])
def reservation(request, pk):
    """Reserve a machine; of one that is reserved, for whom, and the way to let it go."""
    if request.method == "GET" or "find" in request.POST:
        return _page(request, pk)
    form = ReservationForm(request.POST)
    if form.is_valid():
        stay, at = get_object_or_404(Stay, pk=pk), timezone.now()
        said = form.reservation() | {"on": timezone.localdate(at), "by": request.user, "at": at}
        try:
            held = reserve_machine(stay=stay, **said)
        except ValueError as error:
            form.add_error(field_of(error, form), str(error))
        else:
            done = _("The machine is reserved. Print the receipt of the deposit.")
            tell(request, done, written_at=held.reserved_at, at=at)
            return redirect("reservation-paper", pk=held.pk)
    return _page(request, pk, form=form)


@of_our_own
def _page(request, one, form=None):
    held = reservation_of(one.stay) if one.reserved else None
    if held and not form:
        return page_of(request, "resale/reserved.html", one, ReleaseForm(), held=held)
    typed = request.POST.dict() if request.method == "POST" else {}
    form = form or ReservationForm(initial=typed | {"customer": ""})
    return page_of(request, "resale/reserve.html", one, form, held=held)


@require_http_methods(["GET", "POST"])
def reservation_release(request, pk):
    rows = Reservation.objects.select_related("customer", "deposit", "reserved_by", "stay")
    held = get_object_or_404(rows, pk=pk)
    form = ReleaseForm(request.POST or None)
    if form.is_valid():
        at = timezone.now()
        said = form.cleaned_data | {"on": timezone.localdate(at), "by": request.user, "at": at}
        try:
            release_reservation(reservation=held, **said)
        except (ResaleError, TillError, DayClosedError) as error:
            form.add_error("reason", str(error))
        else:
            messages.success(request, _("The reservation is over."))
            return redirect("readiness", pk=held.stay_id)
    return _release_page(request, held.stay_id, held, form)


@of_our_own
def _release_page(request, one, held, form):
    return page_of(request, "resale/reserved.html", one, form, held=held)


@require_GET
def reservation_paper(request, pk):
    """The receipt of a deposit."""
    rows = Reservation.objects.select_related(
        "customer", "deposit__end", "reserved_by", "stay__unit__model__maker", "stay__unit__maker"
    )
    return render(
        request, "resale/reservation_paper.html", {"held": get_object_or_404(rows, pk=pk)}
    )
