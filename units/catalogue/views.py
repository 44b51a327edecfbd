from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_http_methods

from units.catalogue.forms import MergeForm, ModelForm, PhotosForm
from units.catalogue.models import MachineModel, Unit
from units.catalogue.selectors import suggest_makers, suggest_models
from units.catalogue.services import CatalogueError, add_photos, merge_model, save_model
from units.files.services import FileRefusedError


def _page(request, template: str, form, **context) -> HttpResponse:
    status = 422 if form.errors else 200
    return render(request, template, {"form": form, **context}, status=status)


@require_GET
def suggest_maker_names(request):
    """Options for a datalist. What was typed is ``q`` or the field ``maker`` itself."""
    typed = request.GET.get("q") or request.GET.get("maker", "")
    makers = suggest_makers(typed)
    return render(request, "catalogue/maker_options.html", {"makers": makers})


@require_GET
def suggest_model_numbers(request):
    """Options for a datalist: ``maker`` narrows, ``q`` or the field ``number`` was typed."""
    typed = request.GET.get("q") or request.GET.get("number", "")
    models = suggest_models(typed, request.GET.get("maker", ""))
    return render(request, "catalogue/model_options.html", {"models": models})


@require_http_methods(["GET", "POST"])
def edit_model(request, pk):
    model = get_object_or_404(MachineModel.objects.select_related("maker"), pk=pk)
    title = str(model)
    form = ModelForm(request.POST or None, instance=model)
    if request.method == "POST" and form.is_valid():
        try:
            save_model(model=model, facts=form.facts())
        except CatalogueError as error:
            form.add_error("number", str(error))
        else:
            messages.success(request, _("The model is saved."))
            return redirect(reverse("model", args=[pk]))
    return _page(request, "catalogue/model_edit.html", form, title=title)


@require_http_methods(["GET", "POST"])
def merge_models(request, pk):
    """First which model stays (GET), then what that will move, and the yes (POST)."""
    model = get_object_or_404(
        MachineModel.objects.select_related("maker", "merged_into__maker"), pk=pk
    )
    form = MergeForm(request.POST or request.GET or None, model=model)
    into = form.cleaned_data["into"] if form.is_valid() else None
    if request.method == "POST" and into:
        try:
            merge_model(model=model, into=into)
        except CatalogueError as error:
            form.add_error("into", str(error))
        else:
            messages.success(
                request, _("%(old)s now counts as %(model)s.") % {"old": model, "model": into}
            )
            return redirect(reverse("model", args=[into.pk]))
    machines = model.units.count()
    return _page(
        request, "catalogue/model_merge.html", form, model=model, into=into, machines=machines
    )


@require_http_methods(["GET", "POST"])
def add_pictures(request, pk):
    unit = get_object_or_404(Unit.objects.with_identity(), pk=pk)
    # A link may say what the pictures are for: ``?shows=sale``.
    form = PhotosForm(request.POST or None, request.FILES or None, initial=request.GET.dict())
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        try:
            added = add_photos(
                unit=unit,
                uploads=said["pictures"],
                shows=said["shows"],
                by=request.user,
                at=timezone.now(),
            )
        except FileRefusedError as error:
            form.add_error("pictures", str(error))
        else:
            messages.success(request, kept_sentence(len(added)))
            return redirect(reverse("machine", args=[pk]))
    return _page(request, "catalogue/photo_add.html", form, unit=unit)


def kept_sentence(count: int) -> str:
    if not count:
        return _("These pictures are here already.")
    return ngettext("%(count)d picture is kept.", "%(count)d pictures are kept.", count) % {
        "count": count
    }
