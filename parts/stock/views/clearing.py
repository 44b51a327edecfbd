from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from parts.days.services import DayClosedError
from parts.fits.forms import show_refusal
from parts.fits.models import Part
from parts.stock.forms import ScrapForm, TransferForm
from parts.stock.models import Bin
from parts.stock.selectors import bins_of
from parts.stock.services import StockError, find_or_add_bin, scrap_stock, transfer_stock
from units.show.notices import tell


@require_http_methods(["GET", "POST"])
def stock_scrap(request, pk):
    done = _("%(number)s: it is scrapped.")
    return _clear(request, pk, ScrapForm, scrap_stock, done, "stock/scrap.html")


@require_http_methods(["GET", "POST"])
def stock_move(request, pk):
    done = _("%(number)s: it lies in its new bin.")
    return _clear(request, pk, TransferForm, _transfer, done, "stock/transfer.html")


def _clear(request, pk, form_class, act, done, template):
    part = get_object_or_404(Part, pk=pk)
    places = bins_of(part)
    start = {"place": request.GET.get("bin", ""), "on": timezone.localdate()}
    form = form_class(request.POST or None, initial=start, places=places)
    if form.is_valid():
        at, said = timezone.now(), dict(form.cleaned_data)
        try:
            move = act(part=part, bin=said.pop("place"), **said, by=request.user, at=at)
        except (StockError, DayClosedError) as error:
            show_refusal(form, error)
        else:
            tell(request, done % {"number": move.document}, written_at=move.recorded_at, at=at)
            return redirect("stock-part", pk=pk)
    lying = [place for place in places if place.on_hand]
    context = {"form": form, "part": part, "places": lying, "bins": Bin.objects.all()}
    return render(request, template, context, status=422 if form.errors else 200)


@transaction.atomic
def _transfer(*, to_bin, **said):
    return transfer_stock(to_bin=find_or_add_bin(name=to_bin), **said)
