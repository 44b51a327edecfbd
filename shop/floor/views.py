from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from parts.days.services import DayClosedError
from shop.floor.forms import MoveForm, OwedForm, SpotForm
from shop.floor.models import Spot, Stay
from shop.floor.selectors import owed_for, sellers_owed, spots_with_machines, stand_page
from shop.floor.services import FloorError, add_spot, close_spot, move_machine, pay_purchase
from shop.till.services import Paying, TillError
from units.show.codes import code_of
from units.show.notices import tell


@require_GET
def stand(request, pk):
    """Where the code on a hang tag leads: where a machine stands, and the spots to tap."""
    return _stand_page(request, pk, MoveForm())


@require_POST
def stand_move(request, pk):
    form = MoveForm(request.POST)
    if form.is_valid():
        stay = get_object_or_404(Stay, pk=pk)
        try:
            move_machine(stay=stay, by=request.user, at=timezone.now(), **form.cleaned_data)
        except FloorError as error:
            form.add_error("spot", str(error))
        else:
            said = _("It stands at %(spot)s now.") % {"spot": form.cleaned_data["spot"]}
            messages.success(request, said)
            return redirect("stand", pk=pk)
    return _stand_page(request, pk, form)


def _stand_page(request, pk, form):
    try:
        page = stand_page(pk)
    except Stay.DoesNotExist as error:
        raise Http404 from error
    context = {"page": page, "form": form, "fresh": MoveForm()}
    return render(request, "floor/stand.html", context, status=422 if form.errors else 200)


@require_GET
def stand_code(request, pk):
    """The QR code of a hang tag: the address of the page on which the machine is put elsewhere."""
    stay = get_object_or_404(Stay, pk=pk)
    return code_of(request, reverse("stand", args=[stay.pk]))


@require_GET
def spots(request):
    return _spots_page(request, SpotForm())


@require_POST
def spot_add(request):
    form = SpotForm(request.POST)
    if form.is_valid():
        try:
            spot = add_spot(**form.cleaned_data)
        except FloorError as error:
            form.add_error("name", str(error))
        else:
            messages.success(request, _("%(spot)s can be chosen now.") % {"spot": spot})
            return redirect("spot-list")
    return _spots_page(request, form)


def _spots_page(request, form):
    context = {"form": form, "spots": spots_with_machines()}
    return render(request, "floor/spot_list.html", context, status=422 if form.errors else 200)


@require_POST
def spot_close(request, pk):
    spot = get_object_or_404(Spot, pk=pk)
    try:
        close_spot(spot=spot)
    except FloorError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, _("%(spot)s is no longer offered.") % {"spot": spot})
    return redirect("spot-list")


@require_GET
def sellers(request):
    """What we owe those who sold us something, and what they owe us."""
    return render(request, "floor/sellers.html", {"owed": sellers_owed()})


@require_http_methods(["GET", "POST"])
def seller_pay(request, document):
    owed, at = owed_for(document), timezone.now()
    if owed is None:
        raise Http404
    form = OwedForm(request.POST or None, initial={"amount": owed.owed})
    if form.is_valid():
        said = form.cleaned_data
        paying = Paying(said.pop("method"), said.pop("reference"))
        try:
            paid = pay_purchase(document=document, paying=paying, by=request.user, at=at, **said)
        except (FloorError, TillError) as error:
            form.add_error("amount", str(error))
        except DayClosedError as error:
            form.add_error("on", str(error))
        else:
            done = _("%(number)s is written down.") % {"number": paid}
            tell(request, done, written_at=paid.recorded_at, at=at)
            return redirect("sellers-owed")
    status = 422 if form.errors else 200
    return render(request, "floor/seller_pay.html", {"owed": owed, "form": form}, status=status)
