from functools import wraps

from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from parts.days.services import DayClosedError
from parts.stock.views import strip_page
from shop.floor.models import MachineCost, Stay
from shop.floor.selectors import costs_so_far
from shop.floor.services import strip_machine
from shop.people.domain.phones import PhoneError
from shop.people.services import PersonError
from shop.resale.filters import ForSaleFilter
from shop.resale.forms import GradingForm, PriceForm, SaleForm
from shop.resale.selectors import for_sale, one_for_sale, our_stays
from shop.resale.services import ResaleError, record_grading, sell_machine, set_price
from shop.till.services import TillError
from shop.work.models import WorkOrder
from units.catalogue.models import Unit
from units.show.notices import tell

PAGE = 50


@require_GET
def ready_list(request):
    chosen = ForSaleFilter(request.GET, queryset=our_stays())
    # An address with a choice that does not exist shows everything, and the form says so.
    state = chosen.form.cleaned_data.get("state", "") if chosen.form.is_valid() else ""
    found = for_sale(chosen.qs, timezone.localdate(), state)
    page = Paginator(found, PAGE).get_page(request.GET.get("page"))
    context = {"filter": chosen, "page_obj": page, "buy": reverse("purchase-add")}
    return render(request, "resale/ready_list.html", context)


def of_our_own(view):
    """Hand the view our machine of this stay; one that has left, or is not ours, says so."""

    @wraps(view)
    def looked_up(request, pk, *args):
        try:
            return view(request, one_for_sale(pk, timezone.localdate()), *args)
        except Stay.DoesNotExist:
            stay = get_object_or_404(Stay, pk=pk)
            messages.error(request, _("This machine does not stand here for sale."))
            return redirect("machine", pk=stay.unit_id)

    return looked_up


def _page(request, template, one, form=None):
    costs = costs_so_far([one.stay])
    context = {"one": one, "form": form, "cost": costs.get(one.stay.pk, 0)}
    return render(request, template, context, status=422 if form and form.errors else 200)


@require_GET
@of_our_own
def readiness(request, one):
    return _page(request, "resale/readiness.html", one)


@require_http_methods(["GET", "POST"])
@of_our_own
def grading_add(request, one):
    form = GradingForm(request.POST or None, has_safety_key=one.facts.has_safety_key)
    if form.is_valid():
        said = {"safety_key_present": False} | form.cleaned_data
        try:
            record_grading(stay=one.stay, by=request.user, at=timezone.now(), **said)
        except ResaleError as error:
            form.add_error(error.field, str(error))
        else:
            messages.success(request, _("The grading is written down."))
            return redirect("readiness", pk=one.stay.pk)
    return _page(request, "resale/grading.html", one, form)


@require_http_methods(["GET", "POST"])
@of_our_own
def price_set(request, one):
    now = {"price": one.facts.price, "floor": one.facts.floor, "reason": one.facts.price_reason}
    form = PriceForm(request.POST or None, initial=now)
    if form.is_valid():
        try:
            set_price(stay=one.stay, by=request.user, at=timezone.now(), **form.cleaned_data)
        except ResaleError as error:
            form.add_error(error.field, str(error))
        else:
            messages.success(request, _("The asking price is set."))
            return redirect("readiness", pk=one.stay.pk)
    return _page(request, "resale/price.html", one, form)


@require_http_methods(["GET", "POST"])
def machine_sell(request, pk):
    if request.method == "GET" or "find" in request.POST:
        return _sale_page(request, pk)
    form = SaleForm(request.POST)
    if form.is_valid():
        stay, at = get_object_or_404(Stay, pk=pk), timezone.now()
        try:
            sale = sell_machine(stay=stay, by=request.user, at=at, **form.sale())
        except ValueError as error:
            form.add_error(_field_of(error), str(error))
        else:
            done = _("The machine is sold. Print the invoice for the buyer.")
            tell(request, done, written_at=sale.recorded_at, at=at)
            return redirect("invoice", number=sale.invoice.number)
    return _sale_page(request, pk, form)


@of_our_own
def _sale_page(request, one, form=None):
    """The form as first shown, as typed so far when only the search was pressed, or refused."""
    typed = request.POST.dict() if request.method == "POST" else {"on": timezone.localdate()}
    form = form or SaleForm(initial=typed | {"customer": ""})
    return _page(request, "resale/sell.html", one, form)


def _field_of(error: ValueError) -> str | None:
    fields = {PhoneError: "new_phone", PersonError: "new_name", TillError: "amount"}
    fields[DayClosedError] = "on"
    return getattr(error, "field", None) or fields.get(type(error))


@require_http_methods(["GET", "POST"])
def machine_strip(request, pk):
    """Take one of our own machines apart: what it cost us goes to its pieces."""
    unit = get_object_or_404(Unit.objects.select_related("maker", "model__maker"), pk=pk)
    stay = unit.stays.order_by("-pk").first()
    ours = stay and not stay.owner_id and stay.left in ("", Stay.Left.STRIPPED)
    if not ours or WorkOrder.objects.open().filter(stay=stay).exists():
        refusal = _(
            "Only a machine of our own that stands here without an open job is taken apart."
        )
        messages.error(request, refusal)
        return redirect("machine", pk=pk)
    bought = stay.costs.filter(sort=MachineCost.Sort.PURCHASE).first()
    known = {"document": bought.document if bought else "", "cost": costs_so_far([stay])[stay.pk]}

    def strip(*, unit, cost, **said):
        return strip_machine(stay=stay, **said)

    return strip_page(request, unit, known=known, strip=strip)
