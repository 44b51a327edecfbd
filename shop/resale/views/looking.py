"""One machine of ours, as every page about it begins; the list of all of them."""

from functools import wraps

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET

from shop.floor.models import Stay
from shop.resale.filters import ForSaleFilter
from shop.resale.selectors import exits, for_sale, one_for_sale, our_stays

PAGE = 50


@require_GET
def ready_list(request):
    chosen = ForSaleFilter(request.GET, queryset=our_stays())
    # An address with a choice that does not exist shows everything, and the form says so.
    state = chosen.form.cleaned_data.get("state", "") if chosen.form.is_valid() else ""
    found = for_sale(chosen.qs, timezone.localdate(), state)
    page = Paginator(found, PAGE).get_page(request.GET.get("page"))
    context = {"filter": chosen, "page_obj": page, "buy": reverse("purchase-add")}
    return render(request, "resale/ready_list.html", context)


def of_our_own(view):
    """Hand the view our machine of this stay; one that has left, or is not ours, says so."""

    @wraps(view)
    def looked_up(request, pk, *args, **kwargs):
        try:
            one = one_for_sale(pk, timezone.localdate())
        except Stay.DoesNotExist:
            stay = get_object_or_404(Stay, pk=pk)
            messages.error(request, _("This machine does not stand here for sale."))
            return redirect("machine", pk=stay.unit_id)
        return view(request, one, *args, **kwargs)

    return looked_up


def by_exit(view):
    """Hand the view the exit of this key instead of the key."""

    @wraps(view)
    def looked_up(request, one, way, *args, **kwargs):
        if way not in exits():
            raise Http404
        return view(request, one, exits()[way], *args, **kwargs)

    return looked_up


def page_of(request, template, one, form=None, **context):
    context |= {"one": one, "form": form, "cost": one.stay.cost}
    return render(request, template, context, status=422 if form and form.errors else 200)


@require_GET
@of_our_own
def readiness(request, one):
    return page_of(request, "resale/readiness.html", one)


@require_GET
@of_our_own
@by_exit
def way_out(request, one, way):
    """What one exit still asks for."""
    return page_of(request, "resale/way_out.html", one, way=one.by(way))


@require_GET
@of_our_own
def hang_tag(request, one):
    return page_of(request, "resale/hang_tag.html", one)
