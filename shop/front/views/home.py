from django.http import Http404
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET
from django.views.decorators.vary import vary_on_headers

from shop.front.selectors.home import PARTS, PARTS_OF_SEAT, opening
from shop.people.seats import SEATS


@require_GET
@vary_on_headers("HX-Request")
def home(request):
    """Opens on the first seat a person holds; ``?seat=`` another, ``?part=`` one section alone."""
    seat = request.GET.get("seat", request.seats[0])
    if seat not in request.seats:
        raise Http404
    held = [(one, SEATS[one]) for one in request.seats]
    context = {"seat": seat, "held": held, "on": timezone.localdate()}
    if "part" in request.GET:
        return _part(request, request.GET["part"], context)
    page = opening(seat, context["on"])
    parts = [(key, PARTS[key][0]) for key in page.parts]
    return render(request, "front/home.html", context | {"groups": page.groups, "parts": parts})


def _part(request, key, context):
    if key not in PARTS_OF_SEAT[context["seat"]]:
        raise Http404
    title, groups = PARTS[key]
    template = "front/home_part.html"
    return render(
        request,
        f"{template}#part" if request.htmx else template,
        context | {"title": title, "groups": groups(context["on"])},
    )
