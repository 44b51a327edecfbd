from django.http import JsonResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from shop.front.selectors.today import pages_of_today

# What a kept page needs to stand by itself.
FILES = (
    "front/underbelt.css",
    "front/underbelt.js",
    "front/offline.js",
    "front/mark.svg",
    "django_htmx/htmx-2.min.js",
    "inspections/outbox.js",
    "inspections/waiting.js",
    "inspections/walking.js",
    "inspections/vendor/idb-8.0.4.js",
)


@require_GET
def service_worker(request):
    response = render(
        request, "front/service_worker.js", {"files": FILES}, content_type="text/javascript"
    )
    response["Service-Worker-Allowed"] = "/"
    response["Cache-Control"] = "no-cache"
    return response


@require_GET
def offline(request):
    """What stands in for a page that this device has not kept; about nobody."""
    return render(request, "front/offline.html")


@require_GET
def today(request):
    """The pages that a technician's device keeps for today."""
    return JsonResponse(pages_of_today())
