"""Goods without serials: the shelf, where they stand, selling some of them."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from shop.floor.forms import LostForm, PutForm
from shop.floor.models import Goods, GoodsOut
from shop.floor.services import Leaving, put_goods, take_goods
from shop.resale.forms import GoodsSaleForm
from shop.resale.services import sell_goods
from shop.resale.views.leaving import field_of
from units.show.notices import tell

PAGE = 50


@require_GET
def goods_list(request):
    """What is left of everything that was bought by measure; all of it where that is wanted."""
    every = "all" in request.GET
    rows = Goods.objects.with_rest() if every else Goods.objects.here()
    rows = rows.select_related("spot").order_by(*Goods._meta.ordering)
    page = Paginator(rows, PAGE).get_page(request.GET.get("page"))
    return render(request, "resale/goods_list.html", {"page_obj": page, "every": every})


def _the_goods(number: str) -> Goods:
    found = Goods.objects.with_rest().select_related("spot", "came_from").filter(number=number)
    if not (goods := found.first()):
        raise Http404
    return goods


@require_GET
def show_goods(request, number):
    return _shown(request, _the_goods(number))


def _shown(request, goods, forms=None, status=200):
    context = {
        "goods": goods,
        "outs": goods.outs.select_related("recorded_by"),
        "put_form": PutForm(initial={"spot": goods.spot_id}),
        "lost_form": LostForm(),
    }
    return render(request, "resale/goods.html", context | (forms or {}), status=status)


@require_POST
def goods_put(request, number):
    goods, form = _the_goods(number), PutForm(request.POST)
    if form.is_valid():
        put_goods(goods=goods, spot=form.cleaned_data["spot"])
        messages.success(request, _("It is written down where they stand."))
        return redirect("goods", number)
    return _shown(request, goods, {"put_form": form}, status=422)


@require_POST
def goods_lost(request, number):
    goods, form, at = _the_goods(number), LostForm(request.POST), timezone.now()
    if form.is_valid():
        said = form.cleaned_data
        leaving = Leaving(said["quantity"], GoodsOut.Reason.LOST, note=said["note"])
        moment = {"on": said["on"], "key": said["key"], "by": request.user, "at": at}
        try:
            out = take_goods(goods=goods, leaving=leaving, **moment)
        except ValueError as error:
            form.add_error(field_of(error, form), str(error))
        else:
            tell(request, _("They are written off."), written_at=out.recorded_at, at=at)
            return redirect("goods", number)
    return _shown(request, goods, {"lost_form": form}, status=422)


@require_http_methods(["GET", "POST"])
def goods_sell(request, number):
    goods = _the_goods(number)
    if request.method == "GET" or "find" in request.POST:
        start = {"on": timezone.localdate()} | request.POST.dict() | {"customer": ""}
        return _sale_page(request, goods, GoodsSaleForm(initial=start))
    form, at = GoodsSaleForm(request.POST), timezone.now()
    if form.is_valid():
        try:
            out = sell_goods(goods=goods, by=request.user, at=at, **form.sale())
        except ValueError as error:
            form.add_error(field_of(error, form), str(error))
        else:
            done = _("They are sold. Print the invoice for the buyer.")
            tell(request, done, written_at=out.recorded_at, at=at)
            return redirect("invoice", number=out.document)
    return _sale_page(request, goods, form)


def _sale_page(request, goods, form):
    status = 422 if form.errors else 200
    return render(request, "resale/goods_sell.html", {"goods": goods, "form": form}, status=status)
