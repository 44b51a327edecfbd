from django.contrib import messages
from django.db import transaction
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST
from django_filters.views import FilterView

from shop.lots.filters import LotFilter
from shop.lots.forms import AgreeForm, ListForm, LotForm, MatterForm, WalkAwayForm
from shop.lots.forms.money import PayForm, RemovalForm
from shop.lots.selectors import lot_rows, standings
from shop.lots.selectors.money import open_balance, price_after
from shop.lots.selectors.removal import removal_of
from shop.lots.selectors.valued import latest_bid
from shop.lots.services import (
    add_pasted,
    add_source,
    agree_price,
    answer_matter,
    close_loading,
    open_lot,
    queue_reading,
    seller_of,
    walk_away,
)
from shop.lots.views.showing import show_refusal, the_lot, the_whole_lot
from units.show.notices import tell


class LotList(FilterView):
    queryset = lot_rows()
    filterset_class = LotFilter
    template_name = "lots/lot_list.html"
    context_object_name = "lots"
    paginate_by = 50


@require_GET
def show_lot(request, pk):
    return shown(request, the_whole_lot(pk))


def shown(request, lot, forms=None, status=200):
    after = price_after(lot) if lot.agreed is not None else None
    context = {
        "lot": lot,
        "standings": standings(lot.matters.all()),
        "after": after,
        "open": open_balance(lot, after),
        "matter_form": MatterForm(),
        "agree_form": AgreeForm(),
        "pay_form": PayForm(),
        "removal_form": RemovalForm(initial={"remove_by": lot.remove_by}),
        "plan": removal_of(lot, timezone.localdate()),
        "leave_form": WalkAwayForm(),
        "bid": latest_bid(lot),
    }
    return render(request, "lots/lot.html", context | (forms or {}), status=status)


@require_http_methods(["GET", "POST"])
def lot_add(request):
    form = LotForm(request.POST or None, request.FILES or None)
    if form.is_valid():
        at = timezone.now()
        try:
            lot = _open(form, request.user, at)
        except ValueError as error:
            show_refusal(form, error)
        else:
            done = _("%(lot)s is written down.") % {"lot": lot}
            tell(request, done, written_at=lot.recorded_at, at=at)
            return redirect("lot-check" if lot.sources.exists() else "lot", lot.pk)
    status = 422 if form.errors else 200
    return render(request, "lots/lot_form.html", {"form": form}, status=status)


@transaction.atomic
def _open(form, by, at):
    said = form.cleaned_data
    seller = seller_of(name=said["seller"], phone=said["phone"], on=said["offered_on"])
    lot = open_lot(seller=seller, offered=form.offered(), key=said["key"], by=by, at=at)
    _take_lists(form, lot, by, at)
    return lot


def _take_lists(form, lot, by, at) -> int:
    """Keep what was sent and pasted, and have it read; how many lists that were."""
    file, pasted = form.cleaned_data["file"], form.cleaned_data["pasted"]
    kept = [add_source(lot=lot, upload=file, by=by, at=at)] if file else []
    kept += [add_pasted(lot=lot, text=pasted, by=by, at=at)] if pasted.strip() else []
    for source in kept:
        queue_reading(source)
    return len(kept)


@require_http_methods(["GET", "POST"])
def lot_list_add(request, pk):
    lot = the_lot(pk)
    sent = (request.POST, request.FILES) if request.method == "POST" else ()
    form = ListForm(*sent)
    if form.is_valid():
        try:
            with transaction.atomic():
                taken = _take_lists(form, lot, request.user, timezone.now())
        except ValueError as error:
            show_refusal(form, error)
        else:
            if taken:
                return redirect("lot-check", pk)
            form.add_error("file", _("Choose a file, or paste a list."))
    context = {"form": form, "lot": lot}
    status = 422 if form.is_bound and form.errors else 200
    return render(request, "lots/list_form.html", context, status=status)


def _act(request, pk, name, form, act, done):
    """Send a form of the lot's page; a refusal shows on that page."""
    if form.is_valid():
        try:
            act(lot=the_lot(pk), by=request.user, at=timezone.now())
        except ValueError as error:
            show_refusal(form, error)
        else:
            messages.success(request, done)
            return redirect("lot", pk)
    return shown(request, the_whole_lot(pk), {name: form}, status=422)


@require_POST
def lot_matter(request, pk):
    form = MatterForm(request.POST)

    def act(**said):
        answer_matter(answer=form.answer(), **said)

    return _act(request, pk, "matter_form", form, act, _("The answer is written down."))


@require_POST
def lot_agree(request, pk):
    form = AgreeForm(request.POST)

    def act(**said):
        agree_price(**form.cleaned_data, **said)

    return _act(request, pk, "agree_form", form, act, _("The price is agreed."))


@require_POST
def lot_leave(request, pk):
    form = WalkAwayForm(request.POST)

    def act(**said):
        walk_away(on=timezone.localdate(), **form.cleaned_data, **said)

    return _act(request, pk, "leave_form", form, act, _("We walked away."))


@require_POST
def lot_loaded(request, pk):
    lot = the_lot(pk)
    try:
        said = {"on": timezone.localdate(), "by": request.user, "at": timezone.now()}
        close_loading(lot=lot, **said)
    except ValueError as error:
        messages.error(request, str(error))
        return redirect("lot-load", pk)
    messages.success(request, _("The lot is on the truck."))
    return redirect("lot", pk)
