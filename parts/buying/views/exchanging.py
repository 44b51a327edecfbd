from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import F
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from parts.buying.forms import ExchangeForm, OfferForm, StepForm
from parts.buying.models import ExchangeOffer, Supplier
from parts.buying.selectors import cores_to_send, exchange_rows, offer_rows
from parts.buying.services import add_offer, order_exchange, step_exchange
from parts.buying.views.ways import REFUSALS
from parts.fits.forms import show_refusal
from units.show.notices import tell

A_PAGE = 50


@require_GET
def exchange_list(request):
    rows = exchange_rows().order_by(F("sent_on").desc(nulls_first=True), "-ordered_on", "-pk")
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    context = {"page_obj": page, "offers": offer_rows()[:A_PAGE]}
    context["cores"] = cores_to_send(timezone.localdate())
    return render(request, "buying/exchange_list.html", context)


@require_http_methods(["GET", "POST"])
def exchange_offer_add(request):
    form = OfferForm(request.POST or None, initial={"given_on": timezone.localdate()})
    if form.is_valid():
        try:
            add_offer(**form.said(), by=request.user, at=timezone.now())
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The offer is written down."))
            return redirect("exchange-list")
    context = {"form": form, "suppliers": Supplier.objects.all()}
    status = 422 if form.errors else 200
    return render(request, "buying/exchange_offer_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def exchange_add(request, pk):
    offer = get_object_or_404(ExchangeOffer.objects.filter(pk__in=offer_rows()), pk=pk)
    form = ExchangeForm(request.POST or None, initial={"ordered_on": timezone.localdate()})
    if form.is_valid():
        at, said = timezone.now(), dict(form.cleaned_data)
        on = said.pop("ordered_on")
        try:
            made = order_exchange(offer=offer, on=on, **said, by=request.user, at=at)
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            done = _("Exchange %(number)s is ordered.") % {"number": made}
            tell(request, done, written_at=made.recorded_at, at=at)
            return redirect("exchange-list")
    context = {"form": form, "offer": offer}
    status = 422 if form.is_bound else 200
    return render(request, "buying/exchange_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def exchange_step(request, number):
    exchange = get_object_or_404(exchange_rows(), number=number)
    first = {"done_on": timezone.localdate(), "step": "sent" if exchange.came_on else "came"}
    form = StepForm(request.POST or None, initial=first)
    if form.is_valid():
        said = dict(form.cleaned_data)
        on = said.pop("done_on")
        try:
            step_exchange(exchange=exchange, on=on, **said, by=request.user, at=timezone.now())
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("It is written down."))
            return redirect("exchange-list")
    context = {"form": form, "exchange": exchange}
    status = 422 if form.errors else 200
    return render(request, "buying/exchange_step.html", context, status=status)
