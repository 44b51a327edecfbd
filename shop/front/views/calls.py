from datetime import date

from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods

from parts.answers.forms import AnswerForm
from parts.answers.services import AnswerError, record_answer
from parts.fits.forms import show_refusal
from parts.fits.selectors import fits_of
from parts.support.selectors.words import rows, sentence
from shop.front.selectors.calls import call_page, calls_to_make
from units.catalogue.models import MachineModel


@require_GET
def call_list(request):
    calls = calls_to_make(timezone.localdate())
    most = calls[0].call.urgency if calls else 1
    return render(request, "front/call_list.html", {"calls": calls, "most": most})


@require_http_methods(["GET", "POST"])
def call(request, pk):
    """One call: what to read out, what to ask, and the answer; then the next one."""
    page = _page_or_404(pk, timezone.localdate())
    form = _form(request, page.model)
    if form.is_valid():
        try:
            record_answer(**form.said(), by=request.user, at=timezone.now())
        except AnswerError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The answer is written down."))
            return _onward(request, page)
    context = {
        "page": page,
        "model": page.model,
        "form": form,
        "rows": [row for row in rows(page.covered.coverage) if row.covered.place.counts],
        "sentence": sentence(page.covered.coverage),
    }
    return render(request, "front/call.html", context, status=422 if form.errors else 200)


def _page_or_404(pk: int, on: date):
    try:
        return call_page(pk, on)
    except MachineModel.DoesNotExist as error:
        raise Http404 from error


def _form(request, model) -> AnswerForm:
    return AnswerForm(
        request.POST or None,
        request.FILES or None,
        model=model,
        parts=[fit.part for fit in fits_of([model])[model.pk]],
        initial={"given_on": timezone.localdate()},
    )


def _onward(request, page):
    """More about the same model if that was pressed, else the next call."""
    if "more" in request.POST:
        return redirect("call", pk=page.model.pk)
    if page.following:
        return redirect("call", pk=page.following.pk)
    return redirect("call-list")
