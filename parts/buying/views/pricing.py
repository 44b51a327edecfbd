from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods
from django_filters.views import FilterView

from parts.answers.models import Answer
from parts.buying.filters import PriceFilter
from parts.buying.forms import ColumnsForm, ListForm, PriceForm, chosen_from
from parts.buying.models import Supplier
from parts.buying.selectors import given_before, price_lists, prices, read_list
from parts.buying.services import BuyingError, keep_list, load_list, price_part
from parts.buying.views.ways import REFUSALS, SHELF
from parts.fits.forms import show_refusal
from parts.fits.services import RefusedError

MOST_LISTS, MOST_SHOWN = 20, 200


class PriceList(FilterView):
    queryset = prices()
    filterset_class = PriceFilter
    template_name = "buying/price_list.html"
    context_object_name = "prices"
    paginate_by = 50
    extra_context = {"ways": [SHELF]}


@require_http_methods(["GET", "POST"])
def supplier_price_add(request):
    form = PriceForm(request.POST or None, initial={"given_on": timezone.localdate()})
    if form.is_valid():
        try:
            price = price_part(part=form.part, **form.price(), by=request.user, at=timezone.now())
        except RefusedError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("%(part)s is priced.") % {"part": price.part})
            return redirect("supplier-price-list")
    context = {"form": form, "suppliers": Supplier.objects.all()}
    status = 422 if form.errors else 200
    return render(request, "buying/price_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def supplier_list_add(request):
    form = ListForm(
        request.POST or None, request.FILES or None, initial={"given_on": timezone.localdate()}
    )
    if form.is_valid():
        said = dict(form.cleaned_data)
        upload = said.pop("file")
        try:
            kept = keep_list(upload=upload, **said, by=request.user, at=timezone.now())
        except BuyingError as error:
            show_refusal(form, error)
        else:
            return redirect(kept)
    context = {"form": form, "lists": price_lists()[:MOST_LISTS]}
    context["suppliers"] = Supplier.objects.all()
    status = 422 if form.is_bound else 200
    return render(request, "buying/supplier_list_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def supplier_list(request, pk):
    found = get_object_or_404(price_lists(), pk=pk)
    chosen = chosen_from(request.POST or request.GET)
    trouble = None
    if request.method == "POST":
        said = {"only_good": "only_good" in request.POST, "by": request.user, "at": timezone.now()}
        try:
            loaded = load_list(price_list=found, chosen=chosen, **said)
        except REFUSALS as error:
            trouble = str(error)
        else:
            messages.success(request, _loaded(loaded))
            return redirect("supplier-price-list")
    reading = read_list(found, chosen)
    form = ColumnsForm(reading=reading, initial={"sheet_maker": chosen.maker})
    context = {"list": found, "reading": reading, "form": form, "trouble": trouble}
    context["before"] = given_before(found)
    context["faults"] = reading.faults[:MOST_SHOWN]
    context["rows"] = [(one, Answer.Status(one.status).label) for one in reading.offered[:10]]
    status = 422 if trouble else 200
    return render(request, "buying/supplier_list.html", context, status=status)


def _loaded(loaded) -> str:
    return _(
        "%(good)d rows were read: %(answers)d prices and %(parts)d parts are new, "
        "%(bad)d places were wrong and left out."
    ) % {
        "good": loaded.good,
        "answers": loaded.new_answers,
        "parts": loaded.new_parts,
        "bad": loaded.bad,
    }
