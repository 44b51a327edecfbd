from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from shop.work.forms.estimates import AlternativeForm
from shop.work.models import Alternative, Estimate
from shop.work.services.alternatives import add_alternative, drop_alternative
from shop.work.services.errors import JobError
from shop.work.views.acting import REFUSALS, refuse


@require_http_methods(["GET", "POST"])
def alternative_add(request, number, version):
    estimates = Estimate.objects.select_related("job__unit__model__maker")
    estimate = get_object_or_404(estimates, job__number=number, version=version)
    form = AlternativeForm(request.POST or None)
    if form.is_valid():
        try:
            add_alternative(estimate=estimate, **form.cleaned_data)
        except REFUSALS as error:
            refuse(form, error)
        else:
            return redirect("estimate", number=number, version=version)
    context = {"form": form, "estimate": estimate, "job": estimate.job}
    return render(request, "work/alternative.html", context, status=422 if form.errors else 200)


@require_POST
def alternative_drop(request, number, version, letter):
    one = Alternative.objects.filter(
        estimate__job__number=number, estimate__version=version, letter=letter
    )
    if found := one.select_related("estimate").first():
        try:
            drop_alternative(alternative=found)
        except JobError as error:
            messages.error(request, str(error))
    return redirect("estimate", number=number, version=version)
