from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_GET, require_http_methods
from django_filters.views import FilterView

from parts.buying.filters import PriceFilter, ReceiptFilter
from parts.buying.forms import PriceForm, ReceiptForm, ReceiptLines
from parts.buying.models import Receipt, Supplier
from parts.buying.selectors import lines_of, prices, receipts
from parts.buying.services import BuyingError, price_part, receive_delivery
from parts.days.services import DayClosedError
from parts.fits.forms import show_refusal
from parts.fits.services import RefusedError
from parts.stock.models import Bin
from units.catalogue.services import CatalogueError
from units.show.notices import tell

# Pages of the other apps are reached by address: a template names its own app's URLs only.
WAYS = [(reverse_lazy("shelf"), gettext_lazy("What is on the shelf"))]


class ReceiptList(FilterView):
    queryset = receipts()
    filterset_class = ReceiptFilter
    template_name = "buying/receipt_list.html"
    context_object_name = "receipts"
    paginate_by = 50
    extra_context = {"ways": WAYS}


class PriceList(FilterView):
    queryset = prices()
    filterset_class = PriceFilter
    template_name = "buying/price_list.html"
    context_object_name = "prices"
    paginate_by = 50
    extra_context = {"ways": WAYS}


@require_GET
def receipt(request, number):
    found = get_object_or_404(receipts().select_related("recorded_by"), number=number)
    context = {"receipt": found, "lines": lines_of(found)}
    return render(request, "buying/receipt.html", context)


@require_http_methods(["GET", "POST"])
def receipt_add(request):
    form = ReceiptForm(request.POST or None, initial={"received_on": timezone.localdate()})
    lines = ReceiptLines(request.POST or None, prefix="lines")
    if form.is_valid() & lines.is_valid():
        at = timezone.now()
        try:
            taken = _receive(form.cleaned_data, lines, request.user, at)
        except (RefusedError, DayClosedError, CatalogueError) as error:
            show_refusal(form, error)
        else:
            done = _("%(receipt)s is on the shelf.") % {"receipt": taken}
            tell(request, done, written_at=taken.recorded_at, at=at)
            return redirect(taken)
    context = {"form": form, "lines": lines, "bins": Bin.objects.all()}
    context["suppliers"] = Supplier.objects.all()
    status = 422 if form.is_bound else 200
    return render(request, "buying/receipt_form.html", context, status=status)


def _receive(cleaned, lines, by, at) -> Receipt:
    return receive_delivery(
        supplier=cleaned["supplier"],
        lines=lines.typed(),
        reference=cleaned["reference"],
        on=cleaned["received_on"],
        key=cleaned["key"],
        by=by,
        at=at,
    )


@require_http_methods(["GET", "POST"])
def supplier_price_add(request):
    form = PriceForm(request.POST or None, initial={"given_on": timezone.localdate()})
    if form.is_valid():
        try:
            price = price_part(part=form.part, **form.price(), by=request.user, at=timezone.now())
        except BuyingError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("%(part)s is priced.") % {"part": price.part})
            return redirect("supplier-price-list")
    context = {"form": form, "suppliers": Supplier.objects.all()}
    status = 422 if form.errors else 200
    return render(request, "buying/price_form.html", context, status=status)
