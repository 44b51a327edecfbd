"""A bought lot afterwards: taken in, and judged by what came of it."""

from decimal import Decimal

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from parts.days.services import DayClosedError
from shop.lots.forms.taking import HaulForm
from shop.lots.models import Lot
from shop.lots.selectors.bids import newest_valuation
from shop.lots.selectors.money import price_after
from shop.lots.selectors.shares import past_lots, split_of
from shop.lots.services.errors import LotError
from shop.lots.services.taking import take_in


@require_http_methods(["GET", "POST"])
def lot_take_in(request, pk):
    """What each thing of a loaded lot will have cost; and taking it in."""
    lot = get_object_or_404(Lot.objects.select_related("seller"), pk=pk)
    form = HaulForm(request.POST or None, initial={"haul": _haul(lot)})
    if form.is_valid():
        said = {"haul": form.cleaned_data["haul"], "on": timezone.localdate()}
        try:
            take_in(lot=lot, by=request.user, at=timezone.now(), **said)
        except (LotError, DayClosedError) as error:
            form.add_error(getattr(error, "field", None), str(error))
        else:
            messages.success(request, _("The lot is taken in: each machine waits for its job."))
            return redirect(lot)
    price, haul = price_after(lot), Decimal(str(_haul(lot)))
    context = {"lot": lot, "form": form, "price": price, "haul": haul}
    context["things"] = split_of(lot, price, haul) if lot.state == Lot.State.LOADED else []
    return render(request, "lots/take_in.html", context, status=422 if form.errors else 200)


def _haul(lot: Lot) -> float:
    """What the newest valuation reckoned that fetching costs."""
    newest = newest_valuation(lot)
    return newest.figures["haul"]["cost"] if newest else 0.0


@require_GET
def lots_record(request):
    """Was the bid right?"""
    return render(request, "lots/record.html", {"record": past_lots()})
