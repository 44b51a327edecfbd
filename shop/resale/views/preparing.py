"""What makes a machine ready: grading, price, papers, waivers, the holding period."""

from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from shop.floor.models import Stay
from shop.floor.selectors import worths
from shop.floor.services import FloorError
from shop.resale.forms import GradingForm, HoldingForm, PaperForm, PriceForm, WaiverForm
from shop.resale.models import Disclosure
from shop.resale.selectors import draft_of, holding_rules, papers_of, waivers_of
from shop.resale.services import (
    ResaleError,
    attach_paper,
    record_grading,
    set_holding,
    set_price,
    waive,
)
from shop.resale.views.looking import by_exit, of_our_own, page_of
from units.show.notices import tell


@require_http_methods(["GET", "POST"])
@of_our_own
def grading_add(request, one):
    has_key = one.facts.has_safety_key
    start = {"made_in": one.stay.made_in}
    form = GradingForm(request.POST or None, has_safety_key=has_key, initial=start)
    if form.is_valid():
        said = {"safety_key_present": False} | form.cleaned_data
        try:
            record_grading(stay=one.stay, by=request.user, at=timezone.now(), **said)
        except ResaleError as error:
            form.add_error(error.field, str(error))
        except FloorError as error:
            form.add_error("made_in", str(error))
        else:
            messages.success(request, _("The grading is written down."))
            return redirect("readiness", pk=one.stay.pk)
    return page_of(request, "resale/grading.html", one, form)


@require_http_methods(["GET", "POST"])
@of_our_own
def price_set(request, one):
    now = {"price": one.facts.price, "floor": one.facts.floor, "reason": one.facts.price_reason}
    form = PriceForm(request.POST or None, initial=now)
    if form.is_valid():
        try:
            set_price(stay=one.stay, by=request.user, at=timezone.now(), **form.cleaned_data)
        except ResaleError as error:
            form.add_error(error.field, str(error))
        else:
            messages.success(request, _("The asking price is set."))
            return redirect("readiness", pk=one.stay.pk)
    worth = worths([one.stay], one.facts.on)[one.stay.pk]
    return page_of(request, "resale/price.html", one, form, worth=worth)


@require_http_methods(["GET", "POST"])
@of_our_own
@by_exit
def waiver_add(request, one, way, condition):
    unmet = next((gap for gap in one.by(way).unmet if gap.key == condition), None)
    if unmet is None or not unmet.waivable:
        messages.error(request, _("Nothing is to be let pass here."))
        return redirect("way-out", pk=one.stay.pk, way=way.key)
    form = WaiverForm(request.POST or None)
    if form.is_valid():
        said = {"condition": condition, "on": one.facts.on, "reason": form.cleaned_data["reason"]}
        try:
            waive(stay=one.stay, way=way, by=request.user, at=timezone.now(), **said)
        except ResaleError as error:
            form.add_error(error.field, str(error))
        else:
            messages.success(request, _("It is let pass, and your reason is written down."))
            return redirect("way-out", pk=one.stay.pk, way=way.key)
    return page_of(request, "resale/waiver.html", one, form, way=way, unmet=unmet)


@require_http_methods(["GET", "POST"])
@of_our_own
@by_exit
def disclosure_add(request, one, way):
    """The paper as it will read, before it is attached."""
    if not way.written:
        raise Http404
    form = PaperForm(request.POST or None)
    if form.is_valid():
        at = timezone.now()
        said = form.cleaned_data | {"on": one.facts.on, "by": request.user, "at": at}
        try:
            paper = attach_paper(stay=one.stay, way=way, **said)
        except ResaleError as error:
            form.add_error(None, str(error))
        else:
            tell(request, _("The paper is attached."), written_at=paper.attached_at, at=at)
            return redirect("disclosure", pk=paper.pk)
    draft = draft_of(one.facts, way)
    return page_of(request, "resale/disclosure_add.html", one, form, way=way, draft=draft)


@require_GET
def disclosure(request, pk):
    papers = Disclosure.objects.select_related(
        "stay__unit__model__maker", "stay__unit__maker", "attached_by"
    )
    return render(request, "resale/disclosure.html", {"paper": get_object_or_404(papers, pk=pk)})


@require_GET
def written(request, pk):
    """Papers and waivers of one machine of ours, whether it still stands here or not."""
    stays = Stay.objects.ours().select_related("unit__model__maker", "unit__maker")
    stay = get_object_or_404(stays, pk=pk)
    context = {"stay": stay, "papers": papers_of(stay), "waivers": waivers_of(stay)}
    return render(request, "resale/written.html", context)


@require_GET
def holding_period(request):
    return _holding_page(request, HoldingForm(initial={"from_on": timezone.localdate()}))


@require_POST
def holding_set(request):
    form = HoldingForm(request.POST)
    if form.is_valid():
        set_holding(by=request.user, at=timezone.now(), **form.cleaned_data)
        messages.success(request, _("The holding period is written down."))
        return redirect("holding-period")
    return _holding_page(request, form)


def _holding_page(request, form):
    context = {"form": form, "rules": holding_rules()}
    return render(request, "resale/holding.html", context, status=422 if form.errors else 200)
