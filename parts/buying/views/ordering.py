from datetime import timedelta

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods
from django_filters.views import FilterView

from parts.answers.selectors import newest_prices
from parts.buying.filters import OrderFilter
from parts.buying.forms import CancelForm, OrderForm, OrderLines, asked_lines
from parts.buying.models import PurchaseOrderLine, Supplier
from parts.buying.selectors import (
    below_reorder_point,
    lines_so_far,
    order_rows,
    receipts,
    states_of,
)
from parts.buying.services import cancel_rest, order_parts
from parts.buying.views.ways import REFUSALS, SHELF, show_at_row
from parts.fits.forms import show_refusal
from parts.fits.models import Part
from units.show.notices import tell


class OrderList(FilterView):
    queryset = order_rows()
    filterset_class = OrderFilter
    template_name = "buying/order_list.html"
    context_object_name = "orders"
    paginate_by = 50
    extra_context = {"ways": [SHELF]}

    def get_context_data(self, **kwargs):
        context = super().get_context_data(**kwargs)
        lines = lines_so_far(context["orders"])
        states = states_of(lines)
        for order in context["orders"]:
            order.so_far, order.state = lines[order.pk], states[order.pk]
        return context


def _with_lines(number):
    order = get_object_or_404(order_rows(), number=number)
    lines = lines_so_far([order])
    order.so_far, order.state = lines[order.pk], states_of(lines)[order.pk]
    return order


@require_GET
def order(request, number):
    found = _with_lines(number)
    came = receipts().filter(pk__in=found.lines.values("receipt_lines__receipt"))
    to_come = any(line.to_come for line in found.so_far)
    context = {"order": found, "receipts": came, "to_come": to_come}
    return render(request, "buying/order.html", context)


@require_GET
def order_paper(request, number):
    found = _with_lines(number)
    cost = sum(line.quantity * line.unit_cost for line in found.so_far)
    return render(request, "buying/order_paper.html", {"order": found, "cost": cost})


@require_http_methods(["GET", "POST"])
def order_add(request):
    today = timezone.localdate()
    first = {"ordered_on": today, "supplier": request.GET.get("supplier", "")}
    form = OrderForm(request.POST or None, initial=first)
    filled = [] if request.method == "POST" else _filled(request.GET.getlist("want"), today)
    lines = OrderLines(request.POST or None, prefix="lines", initial=filled)
    if form.is_valid() & lines.is_valid():
        at, said = timezone.now(), dict(form.cleaned_data)
        on = said.pop("ordered_on")
        wanted = [line.ordered() for line in lines.filled]
        try:
            made = order_parts(lines=wanted, on=on, **said, by=request.user, at=at)
        except REFUSALS as error:
            show_at_row(form, lines.filled, error)
        else:
            done = _("%(order)s is written down.") % {"order": made}
            tell(request, done, written_at=made.recorded_at, at=at)
            return redirect(made)
    context = {"form": form, "lines": lines, "suppliers": Supplier.objects.all()}
    status = 422 if form.is_bound else 200
    return render(request, "buying/order_form.html", context, status=status)


def _filled(wants, today) -> list[dict]:
    """The lines that an address asks for, at the price and by the day that we may expect."""
    asked = asked_lines(wants)
    parts = Part.objects.select_related("maker").in_bulk([part for part, _much, _key in asked])
    prices = newest_prices(parts.values(), today)
    return [
        _filled_line(parts[part], quantity, key, prices.get(part), today)
        for part, quantity, key in asked
        if part in parts
    ]


def _filled_line(part, quantity, key, priced, today) -> dict:
    line = {"number": part.number, "maker": part.maker or "", "demand": key}
    line["quantity"] = f"{quantity.normalize():f}"
    if priced:
        line["unit_cost"] = f"{priced.cost.normalize():f}"
    if priced and priced.lead_days is not None:
        line["expected_on"] = today + timedelta(days=priced.lead_days)
    return line


@require_http_methods(["GET", "POST"])
def order_line_cancel(request, number, pk):
    lines = PurchaseOrderLine.objects.so_far().select_related("order__supplier", "part")
    line = get_object_or_404(lines, pk=pk, order__number=number)
    form = CancelForm(request.POST or None)
    if form.is_valid():
        try:
            cancel_rest(line=line, **form.cleaned_data, by=request.user, at=timezone.now())
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("Nothing more is expected of this line."))
            return redirect(line.order)
    context = {"form": form, "line": line}
    status = 422 if form.errors else 200
    return render(request, "buying/order_line_cancel.html", context, status=status)


@require_GET
def reorder_list(request):
    context = {
        "title": _("What the shelf will run out of"),
        "lead": _(
            "By what left the shelf in the last year and how long the supplier takes: for a part "
            "that left it on three days or more, and of which we know how long it takes."
        ),
        "nothing": _("Everything on the shelf lasts until it could be ordered again."),
        "groups": below_reorder_point(timezone.localdate()),
    }
    return render(request, "buying/wanted.html", context)
