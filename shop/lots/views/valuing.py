"""What a lot is worth: having it valued, and the bid that comes out."""

import uuid

from django.contrib import messages
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from shop.lots.domain.prices import Terms
from shop.lots.forms.valuing import PERCENT, WorthForm, plain_number
from shop.lots.models import Lot, Valuation
from shop.lots.selectors.bids import bid_page, newest_valuation, priced_models
from shop.lots.selectors.figures import shop_figures
from shop.lots.selectors.valued import valuations_of
from shop.lots.services.valuing import ValuationError, Wish, want_again, want_valuation
from shop.lots.services.valuing.paper import bid_paper
from units.show.notices import tell


@require_http_methods(["GET", "POST"])
def lot_worth(request, pk):
    """The sheet by which a lot is valued, and what it was valued at before."""
    lot = get_object_or_404(Lot.objects.select_related("seller"), pk=pk)
    form = _form(request, lot)
    if form.is_valid():
        now = timezone.now()
        said = {"lot": lot, "wish": _wish(form), "key": form.cleaned_data["key"]}
        try:
            valuation = want_valuation(**said, by=request.user, at=now, on=timezone.localdate())
        except ValuationError as error:
            form.add_error(None, str(error))
        else:
            tell(request, _("The lot is being valued."), written_at=valuation.wanted_at, at=now)
            return redirect(valuation)
    context = {"lot": lot, "form": form, "valuations": valuations_of(lot)}
    return render(request, "lots/worth.html", context, status=422 if form.errors else 200)


def _form(request, lot: Lot) -> WorthForm:
    newest = newest_valuation(lot)
    models = [one.key for one in priced_models(newest)] if newest else []
    start = {"asked": lot.asked}
    if newest:
        terms = {"margin": PERCENT * newest.margin, "odds": PERCENT * newest.odds}
        start |= {name: plain_number(value) for name, value in terms.items()}
        start |= {"other_costs": newest.other_costs, "seed": newest.seed, "draws": newest.draws}
        start["asked"] = newest.asked
    said = {"typed": newest.typed if newest else {}, "figures": shop_figures()}
    return WorthForm(request.POST or None, models=models, initial=start, **said)


def _wish(form: WorthForm) -> Wish:
    said = form.cleaned_data
    terms = Terms(float(said["margin"] / PERCENT), float(said["odds"] / PERCENT))
    return Wish(said["asked"], terms, said["seed"], said["draws"], said["other_costs"], form.typed)


@require_GET
def valuation(request, pk):
    """The bid; while it is being reckoned the page asks again."""
    try:
        row, page = bid_page(pk)
    except Valuation.DoesNotExist as error:
        raise Http404 from error
    context = {"valuation": row, "lot": row.lot, "page": page, "again_key": uuid.uuid4()}
    return render(request, "lots/valuation.html", context)


@require_POST
def valuation_again(request, pk):
    """Reckon it again from what was kept."""
    first = get_object_or_404(Valuation, pk=pk)
    try:
        key = uuid.UUID(request.POST.get("key", ""))
    except ValueError as error:
        raise Http404 from error
    now = timezone.now()
    try:
        again = want_again(valuation=first, key=key, by=request.user, at=now)
    except ValuationError as error:
        messages.error(request, str(error))
        return redirect(first)
    tell(request, _("It is being reckoned again."), written_at=again.wanted_at, at=now)
    return redirect(again)


@require_GET
def valuation_paper(request, pk):
    """The bid on one page, to take along."""
    try:
        row, page = bid_page(pk)
    except Valuation.DoesNotExist as error:
        raise Http404 from error
    if page is None:
        raise Http404
    name = f"{_('bid')}-{row.lot_id}-{row.pk}.pdf"
    return FileResponse(
        bid_paper(page), as_attachment=True, filename=name, content_type="application/pdf"
    )
