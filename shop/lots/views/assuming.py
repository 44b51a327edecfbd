"""The sheet of assumptions that counts for every lot."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from shop.lots.forms.assuming import ShopFiguresForm
from shop.lots.selectors.figures import own_facts, shop_figures
from shop.lots.services.errors import LotError
from shop.lots.services.figures import set_shop_figures


@require_http_methods(["GET", "POST"])
def lots_assumptions(request):
    form = ShopFiguresForm(request.POST or None, figures=shop_figures())
    if form.is_valid():
        said = {"figures": form.figures(), "why": form.cleaned_data["why"]}
        try:
            done = set_shop_figures(**said, by=request.user, at=timezone.now())
        except LotError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, _told(len(done)))
            return redirect("lots-assumptions")
    context = {"form": form, "own": own_facts()}
    status = 422 if form.errors else 200
    return render(request, "lots/assumptions.html", context, status=status)


def _told(count: int) -> str:
    if not count:
        return _("Nothing has changed.")
    told = ngettext(
        "%(count)d figure is set for every lot that is valued from now on.",
        "%(count)d figures are set for every lot that is valued from now on.",
        count,
    )
    return told % {"count": count}
