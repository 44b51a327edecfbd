from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from shop.front.selectors.search import find


@require_GET
def search(request):
    """What is named without a doubt opens at once."""
    text = request.GET.get("q", "").strip()[:120]
    found = find(text, request.seats)
    if len(found.exact) == 1:
        return redirect(found.exact[0])
    return render(request, "front/search.html", {"found": found, "text": text})
