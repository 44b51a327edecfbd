from django.contrib import messages
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods
from django_filters.views import FilterView

from parts.answers.filters import AnswerFilter
from parts.answers.forms import AnswerForm, FreshnessForm, WithdrawForm
from parts.answers.models import Answer, FreshnessChange, FreshnessRule
from parts.answers.services import (
    AnswerError,
    record_answer,
    set_freshness,
    withdraw_answer,
)
from parts.fits.forms import show_refusal
from parts.fits.selectors import fits_of
from units.catalogue.models import MachineModel


class AnswerList(FilterView):
    queryset = Answer.objects.with_names().newest_first()
    filterset_class = AnswerFilter
    template_name = "answers/answer_list.html"
    context_object_name = "answers"
    paginate_by = 50
    # The pages of models stand above this app, so the template is handed their address.
    extra_context = {"models": (reverse_lazy("model-list"), gettext_lazy("Models"))}


def asked_about(request) -> dict:
    """A component or part that the link to the form named."""
    return {name: request.GET[name] for name in ("component", "part") if name in request.GET}


@require_http_methods(["GET", "POST"])
def answer_add(request, pk):
    model = get_object_or_404(MachineModel.objects.select_related("maker"), pk=pk)
    form = AnswerForm(
        request.POST or None,
        request.FILES or None,
        model=model,
        parts=[fit.part for fit in fits_of([model])[model.pk]],
        initial={"given_on": timezone.localdate(), **asked_about(request)},
    )
    back = reverse("model", args=[model.pk])
    if form.is_valid():
        try:
            record_answer(**form.said(), by=request.user, at=timezone.now())
        except AnswerError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The answer is written down."))
            return redirect(back)
    context = {"form": form, "model": model, "back": back}
    status = 422 if form.errors else 200
    return render(request, "answers/answer_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def answer_withdraw(request, pk):
    answer = get_object_or_404(Answer.objects.with_names(), pk=pk)
    form = WithdrawForm(request.POST or None)
    if form.is_valid():
        try:
            withdraw_answer(answer=answer, **form.cleaned_data, by=request.user, at=timezone.now())
        except AnswerError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("The answer counts no longer."))
            return redirect(answer)
    context = {"form": form, "answer": answer}
    status = 422 if form.errors else 200
    return render(request, "answers/withdraw.html", context, status=status)


@require_http_methods(["GET", "POST"])
def freshness(request):
    """For how long an answer counts, by the way it came: a row for each way."""
    rules = list(FreshnessRule.objects.order_by("channel"))
    forms = [
        FreshnessForm(
            request.POST or None,
            prefix=rule.channel,
            initial={"days": rule.days, "back_order_days": rule.back_order_days},
        )
        for rule in rules
    ]
    if request.method == "POST" and all(form.is_valid() for form in forms):
        with transaction.atomic():
            for rule, form in zip(rules, forms, strict=True):
                set_freshness(
                    channel=rule.channel, **form.cleaned_data, by=request.user, at=timezone.now()
                )
        messages.success(request, _("From now on answers count for so long."))
        return redirect("freshness")
    changes = FreshnessChange.objects.select_related("rule", "changed_by")[:20]
    context = {"rows": list(zip(rules, forms, strict=True)), "changes": changes}
    status = 422 if any(form.errors for form in forms) else 200
    return render(request, "answers/freshness.html", context, status=status)
