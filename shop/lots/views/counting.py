"""Counting on the seller's floor."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_http_methods

from shop.lots.forms.counting import CountForm
from shop.lots.models import LotLine
from shop.lots.selectors import lines_of
from shop.lots.services import LotError
from shop.lots.services.counting import count_lines
from shop.lots.views.showing import show_refusal, the_lot


@require_http_methods(["GET", "POST"])
def lot_count(request, pk):
    """Every confirmed line with how much of it there is."""
    lot = the_lot(pk)
    form = CountForm(
        request.POST or None, lines=lines_of().filter(lot=lot, state=LotLine.State.CONFIRMED)
    )
    if form.is_valid():
        try:
            said = {"counts": form.counts(), "by": request.user, "at": timezone.now()}
            changed = count_lines(lot=lot, **said)
        except LotError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _told(len(changed)))
            return redirect("lot-walk", pk)
    context = {"lot": lot, "form": form}
    return render(request, "lots/count.html", context, status=422 if form.errors else 200)


def _told(count: int) -> str:
    if not count:
        return _("The counts are as they were.")
    told = ngettext("%(count)d line is counted anew.", "%(count)d lines are counted anew.", count)
    return told % {"count": count}
