from django.contrib import messages
from django.http import Http404
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods
from django.views.decorators.vary import vary_on_headers

from parts.answers.forms import AnswerForm
from parts.answers.services import AnswerError, record_answer
from parts.fits.forms import show_refusal
from parts.fits.selectors import fits_of
from parts.support.selectors.words import sentence
from shop.front.selectors.calls import (
    NextCall,
    call_known,
    call_page,
    calls_to_make,
    next_call,
    rows_to_ask,
)
from units.catalogue.models import MachineModel


@require_GET
def call_list(request):
    calls = calls_to_make(timezone.localdate())
    most = calls[0].call.urgency if calls else 1
    return render(request, "front/call_list.html", {"calls": calls, "most": most})


@require_http_methods(["GET", "POST"])
@vary_on_headers("HX-Request")
def call(request, pk):
    """One call: what to read out, what to ask, and the answer; then the next one. ``?part=known``
    is what is known so far, ``?part=next`` who comes after."""
    if request.method == "GET" and "part" in request.GET:
        return _part(request, pk, request.GET["part"])
    page = _or_404(call_page, pk)
    form = _form(request, page.model)
    if form.is_valid():
        following = next_call(pk, timezone.localdate())
        try:
            record_answer(**form.said(), by=request.user, at=timezone.now())
        except AnswerError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The answer is written down."))
            return redirect("call", pk=pk) if "more" in request.POST else _onward(following)
    context = {"page": page, "model": page.model, "form": form}
    return render(request, "front/call.html", context, status=422 if form.errors else 200)


def _part(request, pk: int, part: str):
    if part not in PARTS:
        raise Http404
    return PARTS[part](request, pk)


def _known(request, pk: int):
    model = _or_404(MachineModel.objects.current().select_related("maker", "kind").get, pk)
    covered, standing = call_known(model, timezone.localdate())
    context = {
        "model": model,
        "standing": standing,
        "sentence": sentence(covered.coverage),
        "rows": rows_to_ask(covered.coverage),
    }
    template = "front/call_known.html"
    return render(request, f"{template}#known" if request.htmx else template, context)


def _next(request, pk: int):
    """The link to the next call; followed without a script it goes there at once."""
    following = next_call(pk, timezone.localdate())
    if not request.htmx:
        return _onward(following)
    return render(request, "front/call_next.html", {"following": following})


PARTS = {"known": _known, "next": _next}


def _or_404(get, pk: int):
    try:
        return get(pk=pk)
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


def _onward(following: NextCall | None):
    return redirect("call", pk=following.model.pk) if following else redirect("call-list")
