from django.http import Http404
from django.shortcuts import render
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_GET

from units.inspections.selectors import cautions

# In reading order. Each topic is a template of its name.
TOPICS = {
    "first-day": _("A machine's way through the shop"),
    "seats": _("Who may open what"),
    "parts-answers": _("Parts answers, and when they are stale"),
    "lots": _("Lots: from a seller's list to the most to pay"),
    "cautions": _("Cautions"),
    "plates": _("Plates, read from a photo"),
    "phones": _("Phones, cameras and https"),
    "proxy": _("Running behind a proxy"),
    "backups": _("Backing up and putting back"),
}


@require_GET
def help_index(request):
    return render(request, "front/help/index.html", {"topics": TOPICS})


@require_GET
def help_topic(request, topic):
    if topic not in TOPICS:
        raise Http404
    context = {"title": TOPICS[topic], "cautions": cautions().values()}
    return render(request, f"front/help/{topic}.html", context)
