from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from parts.fits.forms import (
    DesignationForm,
    SisterForm,
    SupersedeForm,
    WithdrawForm,
    show_refusal,
)
from parts.fits.models import Fit, Part, Sister, Supersession
from parts.fits.selectors import sisters_of
from parts.fits.services import (
    PartError,
    link_sisters,
    set_designation,
    supersede_by_number,
    withdraw_fit,
    withdraw_sister,
    withdraw_supersession,
)
from units.catalogue.models import MachineModel


@require_http_methods(["GET", "POST"])
def part_supersede(request, pk):
    part = get_object_or_404(Part.objects.select_related("maker", "component"), pk=pk)
    at = timezone.now()
    first = {"maker": part.maker, "on": timezone.localdate(at)}
    form = SupersedeForm(request.POST or None, initial=first)
    if form.is_valid():
        try:
            link = supersede_by_number(part=part, **form.cleaned_data, by=request.user, at=at)
        except PartError as error:
            show_refusal(form, error)
        else:
            told = {"part": part.number, "later": link.replaced_by.number}
            messages.success(request, _("%(part)s became %(later)s: written down.") % told)
            return redirect(part)
    status = 422 if form.errors else 200
    return render(request, "fits/supersede_form.html", {"form": form, "part": part}, status=status)


@require_http_methods(["GET", "POST"])
def part_designation(request, pk):
    part = get_object_or_404(Part, pk=pk)
    form = DesignationForm(request.POST or None, initial={"designation": part.designation})
    if request.method == "POST" and form.is_valid():
        text = form.cleaned_data["designation"]
        try:
            part = set_designation(part=part, text=text, by=request.user, at=timezone.now())
        except PartError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _designated(part))
            return redirect(part)
    context, status = {"form": form, "part": part}, 422 if form.errors else 200
    return render(request, "fits/designation_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def model_sisters(request, pk):
    models = MachineModel.objects.select_related("maker", "kind", "merged_into__maker")
    model = get_object_or_404(models, pk=pk).current
    form = SisterForm(request.POST or None, model=model)
    if form.is_valid():
        said = form.cleaned_data
        try:
            link_sisters(model=model, **said, by=request.user, at=timezone.now())
        except PartError as error:
            show_refusal(form, error)
        else:
            told = {"model": model, "other": said["other"]}
            messages.success(request, _("%(model)s and %(other)s share parts.") % told)
            return redirect("model-sisters", model.pk)
    context = {"form": form, "model": model, "sisters": sisters_of(model)}
    status = 422 if form.errors else 200
    return render(request, "fits/model_sisters.html", context, status=status)


@require_http_methods(["GET", "POST"])
def supersession_withdraw(request, pk):
    links = Supersession.objects.select_related("part", "replaced_by", "recorded_by")
    link = get_object_or_404(links, pk=pk)

    def withdraw(**said):
        withdraw_supersession(supersession=link, **said)

    told = _("%(part)s became %(later)s")
    title = told % {"part": link.part.number, "later": link.replaced_by.number}
    return _withdrawn(request, link, title, withdraw, link.part.get_absolute_url())


@require_http_methods(["GET", "POST"])
def sister_withdraw(request, pk):
    links = Sister.objects.select_related("model__maker", "other__maker", "recorded_by")
    link = get_object_or_404(links, pk=pk)

    def withdraw(**said):
        withdraw_sister(sister=link, **said)

    told = _("%(model)s and %(other)s share parts")
    title = told % {"model": link.model, "other": link.other}
    return _withdrawn(request, link, title, withdraw, link.model.get_absolute_url())


@require_http_methods(["GET", "POST"])
def fit_withdraw(request, pk):
    fits = Fit.objects.select_related("part", "model__maker", "recorded_by")
    fit = get_object_or_404(fits, pk=pk)

    def withdraw(**said):
        withdraw_fit(fit=fit, **said)

    title = _("%(part)s fits %(model)s") % {"part": fit.part.number, "model": fit.model}
    return _withdrawn(request, fit, title, withdraw, fit.part.get_absolute_url())


def _withdrawn(request, link, title: str, withdraw, back: str):
    form = WithdrawForm(request.POST or None)
    if form.is_valid():
        try:
            withdraw(**form.cleaned_data, by=request.user, at=timezone.now())
        except PartError as error:
            show_refusal(form, error)
        else:
            messages.success(request, _("It counts no longer."))
            return redirect(back)
    context = {"form": form, "link": link, "title": title, "back": back}
    return render(request, "fits/withdraw.html", context, status=422 if form.errors else 200)


def _designated(part: Part) -> str:
    if not part.designation:
        return _("%(part)s is no standard part.") % {"part": part.number}
    told = {"part": part.number, "designation": part.designation}
    return _("%(part)s is a %(designation)s.") % told
