from django.contrib import messages
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST
from django.views.decorators.vary import vary_on_headers

from shop.work.forms.estimates import AnswerForm, LineForm
from shop.work.models import Estimate, EstimateLine, WorkOrder
from shop.work.selectors.estimates import estimate_page, parts_to_offer
from shop.work.selectors.needed import needed_page, opened
from shop.work.selectors.not_worth import worth_page
from shop.work.services.errors import JobError
from shop.work.services.estimate_lines import add_line, change_line, drop_line
from shop.work.services.estimates import answer_estimate, make_estimate, offer_estimate
from shop.work.services.steps import name_of
from shop.work.views.acting import REFUSALS, refuse


def _page_or_404(number, version):
    try:
        return estimate_page(number, version, timezone.localdate())
    except Estimate.DoesNotExist as error:
        raise Http404 from error


@require_POST
def estimate_make(request, number):
    job = get_object_or_404(WorkOrder, number=number)
    try:
        estimate = make_estimate(job=job, by=request.user, at=timezone.now())
    except REFUSALS as error:
        messages.error(request, str(error))
        return redirect("job", number=number)
    return redirect("estimate", number=number, version=estimate.version)


@require_GET
def estimate(request, number, version):
    page = _page_or_404(number, version)
    return render(request, "work/estimate.html", {"page": page, "job": page.job})


@require_GET
@vary_on_headers("HX-Request")
def estimate_parts(request, number, version):
    """Whether what the estimate needs can be had; a part of the estimate's page."""
    page = needed_page(number, version, timezone.localdate())
    if page is None:
        raise Http404
    template = "work/estimate_parts.html" + ("#lines" if request.htmx else "")
    return render(request, template, {"page": page, "job": page.job})


@require_GET
@vary_on_headers("HX-Request")
def estimate_worth(request, number, version):
    """Whether the repair is worth its money; a part of the estimate's page.

    ``parts`` is the sealed word of the page before it: both in one would ask too many queries.
    """
    page = _page_or_404(number, version)
    word = opened(request.GET.get("parts", ""), page.estimate.pk)
    worth = worth_page(page, timezone.localdate(), word)
    template = "work/estimate_worth.html" + ("#lines" if request.htmx else "")
    return render(request, template, {"page": page, "job": page.job, "worth": worth})


def _line_page(request, estimate, form, line=None):
    context = {
        "form": form,
        "estimate": estimate,
        "job": estimate.job,
        "line": line,
        "fits": parts_to_offer(estimate.job),
    }
    return render(request, "work/estimate_line.html", context, status=422 if form.errors else 200)


def _kind_of(job: WorkOrder):
    return job.unit.model.kind_id if job.unit else None


@require_http_methods(["GET", "POST"])
def estimate_line_add(request, number, version):
    estimates = Estimate.objects.select_related("job__unit__model__maker")
    estimate = get_object_or_404(estimates, job__number=number, version=version)
    ways = list(estimate.alternatives.all())
    form = LineForm(request.POST or None, kind=_kind_of(estimate.job), alternatives=ways)
    if form.is_valid():
        try:
            add_line(estimate=estimate, wanted=form.wanted(), on=timezone.localdate())
        except REFUSALS as error:
            refuse(form, error)
        else:
            return redirect("estimate", number=number, version=version)
    return _line_page(request, estimate, form)


def _line_or_404(number, pk) -> EstimateLine:
    lines = EstimateLine.objects.select_related("estimate__job__unit__model__maker", "part")
    return get_object_or_404(lines, estimate__job__number=number, pk=pk)


@require_http_methods(["GET", "POST"])
def estimate_line_edit(request, number, pk):
    line = _line_or_404(number, pk)
    ways, kind = list(line.estimate.alternatives.all()), _kind_of(line.estimate.job)
    form = LineForm(request.POST or None, kind=kind, line=line, alternatives=ways)
    if form.is_valid():
        try:
            change_line(line=line, wanted=form.wanted(), on=timezone.localdate())
        except REFUSALS as error:
            refuse(form, error)
        else:
            return redirect("estimate", number=number, version=line.estimate.version)
    return _line_page(request, line.estimate, form, line)


@require_POST
def estimate_line_drop(request, number, pk):
    """A second press finds no line: it is gone, which is what was wanted."""
    line = EstimateLine.objects.filter(estimate__job__number=number, pk=pk).first()
    if line is None:
        messages.warning(request, _("This line is dropped already."))
        return redirect("job", number=number)
    version = line.estimate.version
    try:
        drop_line(line=line)
    except JobError as error:
        messages.error(request, str(error))
    return redirect("estimate", number=number, version=version)


@require_POST
def estimate_offer(request, number, version):
    estimate = get_object_or_404(Estimate, job__number=number, version=version)
    try:
        offer_estimate(estimate=estimate, by=request.user, at=timezone.now())
    except REFUSALS as error:
        messages.error(request, str(error))
    return redirect("estimate", number=number, version=version)


@require_http_methods(["GET", "POST"])
def estimate_answer(request, number, version):
    page = _page_or_404(number, version)
    ways = [one.alternative for one in page.choices]
    least = min((one.sums.net for one in page.choices), default=page.sums.net)
    form = AnswerForm(request.POST or None, job=page.job, net=least, alternatives=ways)
    if form.is_valid():
        answer = form.answer(name_of(request.user))
        try:
            answer_estimate(estimate=page.estimate, **answer, by=request.user, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("The answer is written down."))
            return redirect("job", number=number)
    status = 422 if form.errors else 200
    context = {"form": form, "page": page, "job": page.job}
    return render(request, "work/estimate_answer.html", context, status=status)
