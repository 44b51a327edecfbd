from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods
from django_filters.views import FilterView

from shop.people.filters import CustomerFilter
from shop.people.forms import CustomerForm, PlaceForm, ProfileForm
from shop.people.models import Customer, ShopProfile
from shop.people.selectors import customer_rows, suggested
from shop.people.services import PersonError, add_place, save_customer, save_profile


class CustomerList(FilterView):
    queryset = customer_rows()
    filterset_class = CustomerFilter
    template_name = "people/customer_list.html"
    context_object_name = "customers"
    paginate_by = 50


@require_http_methods(["GET", "POST"])
def customer_add(request):
    return _customer_form(request, None, timezone.localdate())


@require_http_methods(["GET", "POST"])
def customer_edit(request, pk):
    customer = get_object_or_404(Customer, pk=pk)
    return _customer_form(request, customer, customer.known_since)


def _customer_form(request, customer, known_since):
    form = CustomerForm(request.POST if request.method == "POST" else None, instance=customer)
    if form.is_valid():
        try:
            saved = save_customer(customer=customer, known_since=known_since, **form.cleaned_data)
        except PersonError as error:
            form.add_error("name", str(error))
        else:
            messages.success(request, _("%(customer)s is saved.") % {"customer": saved})
            return redirect("customer", pk=saved.pk)
    return render(
        request,
        "people/customer_form.html",
        {"form": form, "customer": customer},
        status=422 if form.errors else 200,
    )


@require_http_methods(["GET", "POST"])
def place_add(request, pk):
    customer = get_object_or_404(Customer, pk=pk)
    form = PlaceForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        try:
            add_place(customer=customer, **form.cleaned_data)
        except PersonError as error:
            form.add_error("name", str(error))
        else:
            messages.success(request, _("The place is saved."))
            return redirect("customer", pk=customer.pk)
    return render(
        request,
        "people/place_form.html",
        {"form": form, "customer": customer},
        status=422 if form.errors else 200,
    )


@require_GET
def suggest_customers(request):
    """Rows to choose a customer from, for the form that asks with ``who``."""
    text = request.GET.get("who", "").strip()
    return render(request, "people/suggestions.html", {"text": text, "customers": suggested(text)})


@require_http_methods(["GET", "POST"])
def shop_profile(request):
    form = ProfileForm(
        request.POST if request.method == "POST" else None, instance=ShopProfile.objects.first()
    )
    if form.is_valid():
        try:
            save_profile(**form.cleaned_data)
        except PersonError as error:
            form.add_error("name", str(error))
        else:
            messages.success(request, _("Papers now carry this name and address."))
            return redirect("shop-profile")
    return render(
        request, "people/shop_profile.html", {"form": form}, status=422 if form.errors else 200
    )
