from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST
from django.views.decorators.vary import vary_on_headers

from units.plates.forms import MOST_IN_A_WALK, PhotosToReadForm, WalkForm
from units.plates.models import PlateWalk
from units.plates.selectors import walk_rows
from units.plates.services import PlateError, open_walk


@require_POST
def add_walk(request):
    form = WalkForm(request.POST)
    if form.is_valid():
        place = form.cleaned_data["place"]
        try:
            walk = open_walk(place=place, by=request.user, at=timezone.now())
        except PlateError as error:
            form.add_error("place", str(error))
        else:
            return redirect("plate-walk", pk=walk.pk)
    return render(request, "plates/walk_add.html", {"form": form}, status=422)


@require_GET
@vary_on_headers("HX-Request")
def show_walk(request, pk):
    """A walk with a row for each photo. ``?part=progress`` is how far it is, with those rows that
    were ``waiting`` on the page and wait no longer."""
    walk = get_object_or_404(PlateWalk.objects.with_progress(), pk=pk)
    seen = f"{walk.photos}-{walk.ended}-{walk.confirmed}-{walk.aside}"
    context = {"walk": walk, "seen": seen, "most": MOST_IN_A_WALK}
    if request.htmx:
        if request.GET.get("seen") == seen:
            return HttpResponse(status=204)
        waiting = set(request.GET.getlist("waiting"))
        rows = [row for row in walk_rows(walk) if str(row.reading.pk) in waiting and row.ended]
        return render(request, "plates/walk_progress.html", context | {"rows": rows})
    context["form"] = PhotosToReadForm(initial={"walk": walk.pk})
    return render(request, "plates/walk.html", context | {"rows": walk_rows(walk)})
