from django.db.models import Min
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods
from django_filters.views import FilterView

from parts.buying.filters import ReceiptFilter
from parts.buying.forms import (
    ArrivalForm,
    ArrivedLineForm,
    ReceiptForm,
    ReceiptLines,
    ReturnForm,
)
from parts.buying.models import Receipt, Supplier
from parts.buying.selectors import lines_of, lines_so_far, order_rows, receipts
from parts.buying.services import receive_delivery, receive_order, return_to_supplier
from parts.buying.views.ways import REFUSALS, SHELF, show_at_row
from parts.fits.forms import show_refusal
from parts.stock.models import Bin, Shelf
from units.show.notices import tell


class ReceiptList(FilterView):
    queryset = receipts()
    filterset_class = ReceiptFilter
    template_name = "buying/receipt_list.html"
    context_object_name = "receipts"
    paginate_by = 50
    extra_context = {"ways": [SHELF]}


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
        except REFUSALS as error:
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
def order_receive(request, number):
    order = get_object_or_404(order_rows(), number=number)
    form = ArrivalForm(request.POST or None, initial={"received_on": timezone.localdate()})
    lines = _arriving(order, request.POST or None)
    valid = [one.is_valid() for one in (form, *lines)]
    if all(valid):
        at = timezone.now()
        came = [line for line in lines if line.arrived()]
        try:
            taken = _arrive(order, came, form.cleaned_data, request.user, at)
        except REFUSALS as error:
            show_at_row(form, came, error)
        else:
            done = _("%(receipt)s is on the shelf.") % {"receipt": taken}
            tell(request, done, written_at=taken.recorded_at, at=at)
            return redirect(taken)
    context = {"form": form, "lines": lines, "order": order, "bins": Bin.objects.all()}
    status = 422 if form.is_bound else 200
    return render(request, "buying/order_receive.html", context, status=status)


def _arriving(order, data) -> list[ArrivedLineForm]:
    """A form for each line that is open, or of which something was sent with this form."""
    lines = lines_so_far([order]).get(order.pk, [])
    places = Shelf.objects.filter(part__in=[line.part_id for line in lines], on_hand__gt=0)
    bins = dict(places.order_by().values_list("part").annotate(Min("bin__name")))
    return [
        ArrivedLineForm(
            data,
            prefix=f"line-{line.pk}",
            line=line,
            initial={
                "quantity": f"{line.to_come.normalize():f}",
                "unit_cost": f"{line.unit_cost.normalize():f}",
                "bin": bins.get(line.part_id, ""),
            },
        )
        for line in lines
        if line.to_come or (data and data.get(f"line-{line.pk}-quantity"))
    ]


def _arrive(order, came, cleaned, by, at) -> Receipt:
    return receive_order(
        order=order,
        lines=[line.arrived() for line in came],
        reference=cleaned["reference"],
        on=cleaned["received_on"],
        key=cleaned["key"],
        by=by,
        at=at,
    )


@require_http_methods(["GET", "POST"])
def part_return(request, number, pk):
    found = get_object_or_404(receipts(), number=number)
    line = get_object_or_404(lines_of(found), pk=pk)
    today = timezone.localdate()
    form = ReturnForm(request.POST or None, initial={"returned_on": today})
    if form.is_valid():
        at = timezone.now()
        said = dict(form.cleaned_data)
        on = said.pop("returned_on")
        try:
            sent = return_to_supplier(receipt_line=line, on=on, **said, by=request.user, at=at)
        except REFUSALS as error:
            show_refusal(form, error)
        else:
            done = _("%(number)s: it goes back to %(supplier)s.")
            done %= {"number": sent, "supplier": found.supplier}
            tell(request, done, written_at=sent.recorded_at, at=at)
            return redirect(found)
    context = {"form": form, "line": line, "receipt": found}
    status = 422 if form.is_bound else 200
    return render(request, "buying/part_return.html", context, status=status)
