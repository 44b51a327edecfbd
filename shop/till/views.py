from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_GET, require_http_methods
from django.views.generic import DetailView
from django_filters.views import FilterView

from parts.days.services import DayClosedError
from shop.till.domain.errors import TillError
from shop.till.filters import InvoiceFilter, PaymentFilter
from shop.till.forms import LabourRateForm, MarkUpForm, PaymentForm, ReversalForm, TaxRateForm
from shop.till.selectors import invoice_paper, invoice_rows, payment_rows, rates_page, reversible
from shop.till.services import (
    add_labour_rate,
    add_mark_up,
    add_tax_rate,
    reverse_payment,
    take_payment,
)
from units.show.notices import tell

REFUSALS = (TillError, DayClosedError)


class InvoiceList(FilterView):
    queryset = invoice_rows()
    filterset_class = InvoiceFilter
    template_name = "till/invoice_list.html"
    context_object_name = "invoices"
    paginate_by = 50


class InvoicePaper(DetailView):
    queryset = invoice_paper()
    slug_field = slug_url_kwarg = "number"
    template_name = "till/invoice.html"
    context_object_name = "invoice"

    def get_context_data(self, **kwargs):
        payments = self.object.payments.all()
        return super().get_context_data(reversible=reversible(payments), **kwargs)


class PaymentList(FilterView):
    queryset = payment_rows()
    filterset_class = PaymentFilter
    template_name = "till/payment_list.html"
    context_object_name = "payments"
    paginate_by = 50


@require_http_methods(["GET", "POST"])
def payment_add(request, number):
    invoice = get_object_or_404(invoice_rows(), number=number)
    form = PaymentForm(
        request.POST if request.method == "POST" else None, initial={"amount": invoice.balance}
    )
    if form.is_valid():
        at = timezone.now()
        try:
            payment = take_payment(invoice=invoice, by=request.user, at=at, **form.cleaned_data)
        except REFUSALS as error:
            form.add_error("amount", str(error))
        else:
            done = _("Payment %(number)s is taken.") % {"number": payment}
            tell(request, done, written_at=payment.recorded_at, at=at)
            return redirect("invoice", number=number)
    return _form(request, "till/payment_form.html", form, invoice=invoice)


@require_http_methods(["GET", "POST"])
def payment_reverse(request, number):
    payment = get_object_or_404(payment_rows(), number=number)
    form = ReversalForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        now = timezone.now()
        try:
            reversal = reverse_payment(
                payment=payment,
                on=timezone.localdate(now),
                by=request.user,
                at=now,
                **form.cleaned_data,
            )
        except REFUSALS as error:
            form.add_error(None, str(error))
        else:
            said = _("%(payment)s is reversed by %(reversal)s.")
            messages.success(request, said % {"payment": payment, "reversal": reversal})
            return redirect("invoice", number=payment.invoice.number)
    return _form(request, "till/reversal_form.html", form, payment=payment)


@require_GET
def rates(request):
    return render(request, "till/rates.html", rates_page(timezone.localdate()))


def _rate_view(form_class, write, title):
    """The page that adds one sort of dated rate."""

    @require_http_methods(["GET", "POST"])
    def rate_add(request):
        form = form_class(request.POST if request.method == "POST" else None)
        if form.is_valid():
            try:
                write(**form.cleaned_data)
            except REFUSALS as error:
                form.add_error("from_on", str(error))
            else:
                messages.success(request, _("The rate is saved."))
                return redirect("rates")
        return _form(request, "till/rate_form.html", form, title=title)

    return rate_add


tax_rate_add = _rate_view(TaxRateForm, add_tax_rate, gettext_lazy("A tax rate"))
labour_rate_add = _rate_view(LabourRateForm, add_labour_rate, gettext_lazy("A labour rate"))
mark_up_add = _rate_view(MarkUpForm, add_mark_up, gettext_lazy("A mark-up on parts"))


def _form(request, template, form, **context):
    status = 422 if form.errors else 200
    return render(request, template, {"form": form, **context}, status=status)
