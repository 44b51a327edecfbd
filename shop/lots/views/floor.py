"""On the seller's floor with a phone: looking at machines, and scanning them at the truck."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from shop.lots.forms import LookForm, ScanForm
from shop.lots.forms.loading import GoodsForm
from shop.lots.models import LotSource
from shop.lots.selectors import goods_of, machines_of, plate_of
from shop.lots.selectors.money import price_after
from shop.lots.selectors.removal import removal_of
from shop.lots.selectors.shares import listed_parts
from shop.lots.services import (
    LotError,
    count_goods,
    inspect_on_site,
    record_look,
    scan_machine,
    value_by_odds,
)
from shop.lots.views.showing import show_refusal, the_lot, the_machine
from units.catalogue.domain.keys import match_key


@require_GET
def lot_walk(request, pk):
    lot = the_lot(pk)
    machines = list(machines_of(lot))
    context = {"lot": lot, "machines": machines}
    context["left"] = sum(one.looked_at is None for one in machines)
    context["plan"] = removal_of(lot, timezone.localdate())
    return render(request, "lots/walk.html", context)


@require_http_methods(["GET", "POST"])
def lot_machine(request, pk, machine):
    lot = the_lot(pk)
    found = the_machine(lot, machine)
    names = ("ran", "why_not", "hours") if found.looked_at else ("hours",)
    plate = plate_of(found)
    initial = {name: getattr(found, name) for name in names}
    initial["serial"] = found.serial or plate.get("serial", "")
    form = LookForm(request.POST or None, request.FILES or None, initial=initial)
    if form.is_valid():
        try:
            record_look(machine=found, look=form.look(), by=request.user, at=timezone.now())
        except ValueError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("%(machine)s is looked at.") % {"machine": found})
            return redirect("lot-walk", pk)
    context = {"lot": lot, "machine": found, "form": form, "plate": plate}
    return render(request, "lots/machine.html", context, status=422 if form.errors else 200)


@require_POST
def lot_machine_inspect(request, pk, machine):
    found = the_machine(the_lot(pk), machine)
    try:
        inspection = inspect_on_site(machine=found, by=request.user, at=timezone.now())
    except ValueError as error:
        messages.error(request, str(error))
        return redirect("lot-machine", pk, machine)
    return redirect("inspection", inspection.pk)


@require_POST
def lot_machine_odds(request, pk, machine):
    found = the_machine(the_lot(pk), machine)
    try:
        value_by_odds(machine=found, yes="yes" in request.POST)
    except LotError as error:
        messages.error(request, str(error))
    return redirect("lot-machine", pk, machine)


@require_GET
def lot_load(request, pk):
    """What is loaded and what is not; ``serial`` finds the machine that was just scanned."""
    lot = the_lot(pk)
    machines = list(machines_of(lot))
    serial = match_key(request.GET.get("serial", ""))
    found = [one for one in machines if serial and match_key(one.serial) == serial]
    if len(found) == 1:
        return redirect("lot-machine-load", pk, found[0].pk)
    return _load_page(request, lot, machines, _goods_form(lot))


@require_POST
def lot_load_goods(request, pk):
    """How much of each line of goods was found."""
    lot = the_lot(pk)
    form = _goods_form(lot, request.POST)
    if form.is_valid():
        try:
            said = {"by": request.user, "at": timezone.now()}
            count_goods(lot=lot, counts=form.counts(), **said)
        except LotError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The goods are counted."))
            return redirect("lot-load", pk)
    return _load_page(request, lot, list(machines_of(lot)), form, status=422)


def _goods_form(lot, sent=None) -> GoodsForm:
    lines = list(goods_of(lot))
    parts = listed_parts(lot) if lines else []
    return GoodsForm(
        sent, lines=lines, parts={one.goods.pk: one.share for one in parts if one.goods}
    )


def _load_page(request, lot, machines, form, status=200):
    rows = form.rows
    context = {"lot": lot, "machines": machines, "after": price_after(lot), "form": form}
    context |= {"serial": request.GET.get("serial", ""), "rows": rows}
    context["left"] = sum(not one.fate for one in machines)
    context["goods_left"] = sum(one.seen is None for one in rows)
    context["plan"] = removal_of(lot, timezone.localdate())
    return render(request, "lots/load.html", context, status=status)


@require_http_methods(["GET", "POST"])
def lot_machine_load(request, pk, machine):
    lot = the_lot(pk)
    found = the_machine(lot, machine)
    names = "fate", "adjusted", "volts", "plug", "seen_serial"
    initial = {name: getattr(found, name) for name in names}
    if not found.fate:
        initial = {"seen_serial": found.serial, "fate": "loaded"}
    form = ScanForm(request.POST or None, initial=initial)
    if form.is_valid():
        try:
            scan_machine(machine=found, scan=form.scan(), by=request.user, at=timezone.now())
        except ValueError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("%(machine)s is scanned.") % {"machine": found})
            return redirect("lot-load", pk)
    parts = {one.machine: one.share for one in listed_parts(lot) if one.machine}
    context = {"lot": lot, "machine": found, "form": form, "part": parts.get(found)}
    return render(request, "lots/machine_load.html", context, status=422 if form.errors else 200)


@require_GET
def lot_source(request, pk, source):
    """The list as it came, to be saved."""
    found = get_object_or_404(LotSource, pk=source, lot=pk)
    response = HttpResponse(bytes(found.content), content_type="application/octet-stream")
    response.headers["Content-Disposition"] = "attachment"
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response
