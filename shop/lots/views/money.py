"""The money of a lot, and the day by which it has to be out."""

from decimal import Decimal

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_POST

from shop.lots.forms.money import HeldForm, PayForm, RemovalForm, SettleForm
from shop.lots.selectors.money import lot_money
from shop.lots.services import name_removal_day, pay_lot, settle_held, settle_lot
from shop.lots.views.lots import shown
from shop.lots.views.showing import show_refusal, the_lot, the_whole_lot
from shop.till.models import Holdback, HoldbackEnd
from units.show.notices import tell


@require_POST
def lot_pay(request, pk):
    form, at = PayForm(request.POST), timezone.now()
    if form.is_valid():
        try:
            lot = pay_lot(lot=the_lot(pk), by=request.user, at=at, **form.payment())
        except ValueError as error:
            show_refusal(form, error)
        else:
            paid = lot.log.get(state=lot.State.PAID)
            tell(request, _("The seller is paid."), written_at=paid.recorded_at, at=at)
            return redirect("lot-money", pk)
    return shown(request, the_whole_lot(pk), {"pay_form": form}, status=422)


@require_GET
def show_money(request, pk):
    return _page(request, the_lot(pk))


def _held_form(one: Holdback, owed_to_us: Decimal) -> HeldForm:
    """What the seller owes us comes off first; else it is his."""
    initial = {"amount": one.left}
    if owed_to_us:
        initial = {"how": HoldbackEnd.How.TAKEN_OFF, "amount": min(one.left, owed_to_us)}
    return HeldForm(initial=initial, prefix=one.pk)


def _page(request, lot, *, settle=None, held=None, status=200):
    """``held`` pairs the money held back that a refused form spoke of with that form."""
    found = lot_money(lot)
    spoken, refused = held or (None, None)
    forms = [
        (one, refused if one.pk == spoken else _held_form(one, found.owed_to_us))
        for one in found.holdbacks
    ]
    context = {"lot": lot, "money": found, "held": forms, "settle_form": settle or SettleForm()}
    return render(request, "lots/money.html", context, status=status)


@require_POST
def lot_settle(request, pk):
    form, lot, at = SettleForm(request.POST), the_lot(pk), timezone.now()
    if form.is_valid():
        try:
            paid = settle_lot(lot=lot, by=request.user, at=at, **form.payment())
        except ValueError as error:
            show_refusal(form, error)
        else:
            done = _("%(number)s is written down.") % {"number": paid}
            tell(request, done, written_at=paid.recorded_at, at=at)
            return redirect("lot-money", pk)
    return _page(request, lot, settle=form, status=422)


@require_POST
def lot_held(request, pk, held):
    lot, at = the_lot(pk), timezone.now()
    holdback = get_object_or_404(Holdback, pk=held, document=lot.document or "")
    form = HeldForm(request.POST, prefix=held)
    if form.is_valid():
        said = form.settlement() | {"holdback": holdback}
        try:
            end = settle_held(lot=lot, by=request.user, at=at, **said)
        except ValueError as error:
            show_refusal(form, error)
        else:
            done = _("What becomes of the money held back is written down.")
            tell(request, done, written_at=end.recorded_at, at=at)
            return redirect("lot-money", pk)
    return _page(request, lot, held=(held, form), status=422)


@require_POST
def lot_removal(request, pk):
    form = RemovalForm(request.POST)
    if form.is_valid():
        said = {"on": timezone.localdate(), "at": timezone.now(), "by": request.user}
        try:
            name_removal_day(lot=the_lot(pk), **form.cleaned_data, **said)
        except ValueError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The day is written down."))
            return redirect("lot", pk)
    return shown(request, the_whole_lot(pk), {"removal_form": form}, status=422)
