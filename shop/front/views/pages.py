from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET
from django.views.decorators.vary import vary_on_headers

from shop.front.selectors.customer import customer_page
from shop.front.selectors.machine import deeds, machine_page, machine_record
from shop.front.selectors.model import model_page
from shop.people.models import Customer
from units.catalogue.models import MachineModel, Unit


@require_GET
@vary_on_headers("HX-Request")
def machine(request, pk):
    """The machine's page; ``?part=record`` is everything written down about it."""
    try:
        if request.GET.get("part") == "record":
            return _record(request, machine_record(pk, request.seats))
        page = machine_page(pk, timezone.localdate())
    except Unit.DoesNotExist as error:
        raise Http404 from error
    context = {"page": page, "unit": page.unit, "deeds": deeds(page, request.seats)}
    return render(request, "front/machine.html", context)


def _record(request, record):
    template = "front/machine_record.html"
    return render(
        request,
        f"{template}#record" if request.htmx else template,
        {"record": record, "unit": record.unit},
    )


@require_GET
def model(request, pk):
    """A model that was merged leads to the one that stands for it."""
    try:
        page = model_page(pk, timezone.localdate())
    except MachineModel.DoesNotExist as error:
        raise Http404 from error
    if page.model.merged_into_id:
        return redirect("model", pk=page.model.merged_into_id)
    return render(request, "front/model.html", {"page": page, "model": page.model})


@require_GET
def customer(request, pk):
    try:
        page = customer_page(pk)
    except Customer.DoesNotExist as error:
        raise Http404 from error
    return render(request, "front/customer.html", {"page": page, "customer": page.customer})
