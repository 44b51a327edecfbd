from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET
from django.views.decorators.vary import vary_on_headers

from shop.front.selectors.customer import customer_page
from shop.front.selectors.machine import deeds, machine_page, machine_record
from shop.front.selectors.model import model_known, model_page, model_parts, model_past
from shop.people.models import Customer
from units.catalogue.models import MachineModel, Unit

MODEL_PARTS = {
    "parts": (model_parts, "front/model_parts.html"),
    "past": (model_past, "front/model_past.html"),
}


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
@vary_on_headers("HX-Request")
def model(request, pk):
    """A model's page; ``?part=parts`` and ``?part=past`` are what it fetches after it stands,
    ``?from=`` the population whose odds it shows. A model that was merged leads to the one that
    stands for it."""
    try:
        known = model_known(pk)
    except MachineModel.DoesNotExist as error:
        raise Http404 from error
    if known.merged_into_id:
        return redirect("model", pk=known.merged_into_id)
    part = MODEL_PARTS.get(request.GET.get("part"))
    today = timezone.localdate()
    if part is None:
        page = model_page(known, today, request.GET.get("from", ""))
        return render(request, "front/model.html", {"page": page, "model": known})
    gather, template = part
    piece = f"{template}#piece" if request.htmx else template
    return render(request, piece, {"page": gather(known, today), "model": known})


@require_GET
def customer(request, pk):
    try:
        page = customer_page(pk)
    except Customer.DoesNotExist as error:
        raise Http404 from error
    return render(request, "front/customer.html", {"page": page, "customer": page.customer})
