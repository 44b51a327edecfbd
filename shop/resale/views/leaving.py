"""A machine of ours leaves: sold, given away, scrapped or taken apart."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from parts.days.services import DayClosedError
from parts.stock.services import StripError
from parts.stock.views import strip_page
from shop.floor.models import MachineCost, Stay
from shop.floor.selectors import costs_so_far
from shop.people.domain.phones import PhoneError
from shop.people.services import PersonError
from shop.resale.forms import DisposalForm, SaleForm
from shop.resale.models import Disposal
from shop.resale.selectors import exits
from shop.resale.services import ResaleError, dispose_machine, sell_machine, strip_own
from shop.resale.views.looking import by_exit, of_our_own, page_of
from shop.till.services import TillError
from shop.work.models import WorkOrder
from units.catalogue.models import Unit
from units.show.notices import tell


@require_http_methods(["GET", "POST"])
def machine_sell(request, pk, way="retail"):
    found = exits().get(way)
    if found is None or not found.sale:
        raise Http404
    if request.method == "GET" or "find" in request.POST:
        return _sale_page(request, pk, way)
    stay = get_object_or_404(Stay.objects.select_related("unit__model__kind"), pk=pk)
    asks = found.outlet and stay.unit.model.kind.has_cord
    form = SaleForm(request.POST, asks_outlet=asks)
    if form.is_valid():
        at = timezone.now()
        try:
            sale = sell_machine(stay=stay, way=found, by=request.user, at=at, **form.sale())
        except ValueError as error:
            form.add_error(field_of(error, form), str(error))
        else:
            done = _("The machine is sold. Print the invoice for the buyer.")
            tell(request, done, written_at=sale.recorded_at, at=at)
            return redirect("invoice", number=sale.invoice.number)
    return _sale_page(request, pk, way, form=form)


@of_our_own
@by_exit
def _sale_page(request, one, way, form=None):
    """The form as first shown, as typed so far when only the search was pressed, or refused.

    Whoever left a deposit is chosen to begin with.
    """
    start = {"on": one.facts.on, "customer": str(one.stay.reserved_customer or "")}
    if request.method == "POST":
        start = request.POST.dict() | {"customer": ""}
    asks = way.outlet and one.facts.plugged_in
    form = form or SaleForm(initial=start, asks_outlet=asks)
    return page_of(request, "resale/sell.html", one, form, way=one.by(way))


def field_of(error: ValueError, form) -> str | None:
    """The field at which a refusal stands."""
    fields = {PhoneError: "new_phone", PersonError: "new_name", TillError: "amount"}
    fields[DayClosedError] = "on"
    named = getattr(error, "field", None) or fields.get(type(error))
    return named if named in form.fields else None


@require_http_methods(["GET", "POST"])
def machine_dispose(request, pk, way):
    found = exits().get(way)
    if found is None or found.left not in (Stay.Left.DONATED, Stay.Left.SCRAPPED):
        raise Http404
    form = DisposalForm(request.POST or None, initial={"on": timezone.localdate()})
    if form.is_valid():
        stay, at = get_object_or_404(Stay, pk=pk), timezone.now()
        try:
            gone = dispose_machine(
                stay=stay, way=found, by=request.user, at=at, **form.cleaned_data
            )
        except (ResaleError, DayClosedError) as error:
            form.add_error(field_of(error, form), str(error))
        else:
            tell(request, _("The machine has left us."), written_at=gone.recorded_at, at=at)
            return redirect("disposal", number=gone.number)
    return _disposal_page(request, pk, way, form=form)


@of_our_own
@by_exit
def _disposal_page(request, one, way, form):
    return page_of(request, "resale/dispose.html", one, form, way=one.by(way))


@require_GET
def disposal(request, number):
    rows = Disposal.objects.select_related(
        "stay__unit__model__maker", "stay__unit__maker", "disclosure", "recorded_by"
    )
    gone = get_object_or_404(rows, number=number)
    return render(request, "resale/disposal.html", {"gone": gone})


@require_http_methods(["GET", "POST"])
def machine_strip(request, pk):
    """Take one of our own machines apart: what it cost us goes to its pieces.

    Its way here leads over what that still asks for; :func:`strip_own` asks again.
    """
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
        try:
            return strip_own(stay=stay, **said)
        except ResaleError as error:
            raise StripError(str(error)) from error

    return strip_page(request, unit, known=known, strip=strip)
