from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods
from django_filters.views import FilterView

from shop.work.filters import FlatRateFilter
from shop.work.forms.flat_rates import FlatRateForm
from shop.work.models import FlatRate
from shop.work.services.flat_rates import set_flat_rate
from shop.work.views.acting import REFUSALS, refuse


class FlatRateList(FilterView):
    queryset = FlatRate.objects.select_related("component", "kind", "changed_by").order_by(
        "component__name", "act", "kind__position"
    )
    filterset_class = FlatRateFilter
    template_name = "work/flat_rate_list.html"
    paginate_by = 50


@require_http_methods(["GET", "POST"])
def flat_rate(request, pk):
    rate = get_object_or_404(FlatRate.objects.select_related("component", "kind"), pk=pk)
    form = FlatRateForm(request.POST or None, rate=rate)
    if form.is_valid():
        said = {"kind": rate.kind} | form.cleaned_data
        words = {"act": rate.act, "component": rate.component, "by": request.user}
        try:
            set_flat_rate(**said, **words, at=timezone.now())
        except REFUSALS as error:
            refuse(form, error)
        else:
            messages.success(request, _("New estimates take this time."))
            return redirect("flat-rate-list")
    context = {"form": form, "rate": rate}
    return render(request, "work/flat_rate.html", context, status=422 if form.errors else 200)
