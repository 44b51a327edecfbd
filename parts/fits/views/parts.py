from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse, reverse_lazy
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_safe
from django_filters.views import FilterView

from parts.fits.filters import PartFilter
from parts.fits.forms import FitForm, PartForm, show_refusal
from parts.fits.models import Part
from parts.fits.selectors import chain_of, part_page, part_rows, standard_of
from parts.fits.services import PartError, add_fit, add_part

# Pages of the apps above are reached by address, since a template names its own app's URLs only.
WAYS = [
    (reverse_lazy("shelf"), gettext_lazy("What is on the shelf")),
    (reverse_lazy("supplier-price-list"), gettext_lazy("Suppliers’ prices")),
]


class PartList(FilterView):
    queryset = part_rows()
    filterset_class = PartFilter
    template_name = "fits/part_list.html"
    context_object_name = "parts"
    paginate_by = 50
    extra_context = {"ways": WAYS}


@require_safe
def part(request, pk):
    part = get_object_or_404(part_page(), pk=pk)
    context = {
        "part": part,
        "chain": chain_of(part),
        "standard": standard_of(part),
        "had": reverse("part-had", args=[part.pk]),
        "ways": WAYS,
    }
    return render(request, "fits/part.html", context)


@require_http_methods(["GET", "POST"])
def part_add(request):
    form = PartForm(request.POST or None)
    if form.is_valid():
        try:
            part = add_part(**form.cleaned_data)
        except PartError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("%(part)s is added. Say what it fits.") % {"part": part})
            return redirect(part)
    status = 422 if form.errors else 200
    return render(request, "fits/part_form.html", {"form": form}, status=status)


@require_http_methods(["GET", "POST"])
def fit_add(request, pk):
    part = get_object_or_404(Part, pk=pk)
    form = FitForm(request.POST or None)
    if form.is_valid():
        try:
            fit = add_fit(part=part, **form.cleaned_data, by=request.user, at=timezone.now())
        except PartError as error:
            show_refusal(form, error)
        else:
            told = {"part": part.number, "model": fit.model}
            messages.success(request, _("%(part)s fits %(model)s: written down.") % told)
            return redirect(part)
    status = 422 if form.errors else 200
    return render(request, "fits/fit_form.html", {"form": form, "part": part}, status=status)
