from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe
from django.views.decorators.vary import vary_on_headers
from django_filters.views import FilterView

from units.catalogue.models import Unit
from units.recalls.filters import RecallFilter
from units.recalls.forms import CheckForm, DecisionForm, LoadForm, RemedyForm
from units.recalls.models import Recall, RecallLoad
from units.recalls.selectors import (
    UnitMatch,
    all_matches,
    match_of,
    matches_of,
    matches_of_recall,
    models_named_by,
    open_matches,
)
from units.recalls.services import (
    RecallError,
    decide_match,
    load_recalls,
    record_check,
    record_remedy,
)

PAGE = 50


class RecallList(FilterView):
    queryset = Recall.objects.all()
    filterset_class = RecallFilter
    template_name = "recalls/recall_list.html"
    context_object_name = "recalls"
    paginate_by = PAGE

    def get_context_data(self, **kwargs):
        asked = {"last": RecallLoad.objects.first(), "waiting": len(open_matches())}
        return super().get_context_data(**kwargs) | asked


@require_safe
def recall(request, pk):
    notice = get_object_or_404(Recall, pk=pk)
    context = {
        "recall": notice,
        "matches": matches_of_recall(notice),
        "models": models_named_by(notice),
        "versions": notice.versions.defer("raw"),
    }
    return render(request, "recalls/recall.html", context)


@require_safe
def match_list(request):
    matches = all_matches() if "all" in request.GET else open_matches()
    page = Paginator(matches, PAGE).get_page(request.GET.get("page"))
    context = {"page_obj": page, "every": "all" in request.GET}
    return render(request, "recalls/match_list.html", context)


@require_safe
@vary_on_headers("HX-Request")
def machine_recalls(request, pk):
    """A machine's recalls; the lines alone where they are fetched into its page."""
    unit = get_object_or_404(Unit.objects.with_identity(), pk=pk)
    matches = matches_of([unit]).get(pk, [])
    history = unit.recall_decisions.select_related("recall", "decided_by")
    context = {"unit": unit, "matches": matches, "history": history}
    template = "recalls/machine_recalls.html"
    return render(request, f"{template}#lines" if request.htmx else template, context)


@require_http_methods(["GET", "POST"])
def decide(request, pk, unit):
    match = _match(pk, unit)
    form = DecisionForm(request.POST or None, initial={"basis": match.basis})
    if form.is_valid() and _done(request, form, match, decide_match):
        messages.success(request, _("The decision is written down."))
        return redirect(reverse("machine-recalls", args=[unit]))
    return _asked(request, form, match, "recalls/decide.html")


@require_http_methods(["GET", "POST"])
def remedy(request, pk, unit):
    match = _match(pk, unit)
    form = RemedyForm(request.POST or None, initial={"basis": match.basis})
    if form.is_valid() and _done(request, form, match, record_remedy):
        messages.success(request, _("The remedy is written down."))
        return redirect(reverse("machine-recalls", args=[unit]))
    return _asked(request, form, match, "recalls/remedy.html")


def _match(pk: int, unit: int) -> UnitMatch:
    recall = get_object_or_404(Recall, pk=pk)
    machine = get_object_or_404(Unit.objects.with_identity(), pk=unit)
    match = match_of(recall, machine)
    if match is None:
        raise Http404
    return match


def _done(request, form, match: UnitMatch, service) -> bool:
    """Whether the service wrote it down; a refusal then stands at its field."""
    try:
        service(
            recall=match.recall,
            unit=match.unit,
            by=request.user,
            at=timezone.now(),
            **form.cleaned_data,
        )
    except RecallError as error:
        form.add_error(error.field, str(error))
        return False
    return True


def _asked(request, form, match: UnitMatch, template: str):
    context = {"form": form, "match": match, "unit": match.unit, "recall": match.recall}
    return render(request, template, context, status=422 if form.errors else 200)


@require_http_methods(["GET", "POST"])
def load(request):
    form = LoadForm(request.POST, request.FILES) if request.method == "POST" else LoadForm()
    if form.is_valid():
        file = form.cleaned_data["file"]
        try:
            loaded = load_recalls(
                content=file.read(), name=file.name, by=request.user, at=timezone.now()
            )
        except RecallError as error:
            form.add_error(error.field, str(error))
        else:
            said = _(
                "Recalls new: %(new)d, changed: %(changed)d, as before: %(same)d. "
                "Matches opened: %(opened)d."
            )
            messages.success(
                request, " ".join(filter(None, [said % vars(loaded), loaded.left_out]))
            )
            return redirect("recall-match-list" if loaded.opened else "recall-list")
    status = 422 if form.errors else 200
    return render(request, "recalls/load.html", {"form": form}, status=status)


@require_http_methods(["GET", "POST"])
def add_check(request, pk):
    unit = get_object_or_404(Unit.objects.with_identity(), pk=pk)
    form = CheckForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            record_check(unit=unit, by=request.user, at=timezone.now(), **form.cleaned_data)
        except RecallError as error:
            form.add_error(error.field, str(error))
        else:
            messages.success(request, _("The recall check is recorded."))
            return redirect(reverse("machine", args=[pk]))
    status = 422 if form.errors else 200
    return render(request, "recalls/check_add.html", {"form": form, "unit": unit}, status=status)
