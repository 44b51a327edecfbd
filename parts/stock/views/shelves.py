from django.contrib import messages
from django.core.paginator import Paginator
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_GET, require_http_methods
from django_filters.views import FilterView

from parts.days.services import DayClosedError
from parts.fits.forms import show_refusal
from parts.fits.models import Part
from parts.stock.filters import ShelfFilter
from parts.stock.forms import CostingForm, CountForm
from parts.stock.models import Bin, CostingChoice
from parts.stock.selectors import (
    bins_of,
    costing,
    costing_choices,
    layers_of,
    moves_of,
    newest_move_id,
    parts_on_shelf,
    shelf_worth,
)
from parts.stock.services import StockError, choose_costing, count_stock, find_or_add_bin

# Pages of the other apps are reached by address: a template names its own app's URLs only.
WAYS = [
    (reverse_lazy("receipt-list"), gettext_lazy("Deliveries of parts")),
    (reverse_lazy("part-list"), gettext_lazy("All parts")),
    (reverse_lazy("supplier-price-list"), gettext_lazy("Suppliers’ prices")),
]


class ShelfPage(FilterView):
    queryset = parts_on_shelf()
    filterset_class = ShelfFilter
    template_name = "stock/shelf.html"
    context_object_name = "parts"
    paginate_by = 50
    extra_context = {"ways": WAYS, "shelf_worth": shelf_worth}


@require_GET
def stock_part(request, pk):
    """Where a part lies, what it cost, and every line of its ledger."""
    part = get_object_or_404(Part.objects.select_related("component"), pk=pk)
    page = Paginator(moves_of(part), 50).get_page(request.GET.get("page"))
    places = [place for place in bins_of(part) if place.on_hand]
    context = {
        "part": part,
        "places": places,
        "layers": layers_of(part),
        "method": CostingChoice.Method(costing()).label,
        "page_obj": page,
        "paginator": page.paginator,
    }
    return render(request, "stock/part.html", context)


@require_http_methods(["GET", "POST"])
def stock_count(request, pk):
    part = get_object_or_404(Part, pk=pk)
    start = {"bin": request.GET.get("bin", ""), "on": timezone.localdate()}
    form = CountForm(request.POST or None, initial=start | {"seen": newest_move_id(part)})
    if form.is_valid():
        try:
            _count(part, form.cleaned_data, request.user)
        except (StockError, DayClosedError) as error:
            show_refusal(form, error)
            # Whoever reads the refusal sees the shelf as it is now, and counts on from there.
            form.data = form.data.dict() | {"seen": newest_move_id(part)}
        else:
            messages.success(request, _("%(part)s is counted.") % {"part": part})
            return redirect("shelf")
    context = {"form": form, "part": part, "places": bins_of(part), "bins": Bin.objects.all()}
    status = 422 if form.errors else 200
    return render(request, "stock/count.html", context, status=status)


@transaction.atomic
def _count(part, cleaned, by):
    place = find_or_add_bin(name=cleaned.pop("bin"))
    count_stock(part=part, bin=place, **cleaned, by=by, at=timezone.now())


@require_GET
def costing_page(request):
    """How parts are costed, and who chose it when."""
    context = {"method": CostingChoice.Method(costing()).label, "choices": costing_choices()}
    return render(request, "stock/costing.html", context)


@require_http_methods(["GET", "POST"])
def costing_choose(request):
    now = costing()
    form = CostingForm(request.POST or None, initial={"method": now})
    if form.is_valid():
        try:
            chosen = choose_costing(**form.cleaned_data, by=request.user, at=timezone.now())
        except StockError as error:
            show_refusal(form, error)
        else:
            done = _("From now on parts are costed by: %(method)s.") % {"method": chosen}
            messages.success(request, done)
            return redirect("costing")
    context = {"form": form, "method": CostingChoice.Method(now).label}
    status = 422 if form.errors else 200
    return render(request, "stock/costing_form.html", context, status=status)
