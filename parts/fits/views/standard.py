from django.shortcuts import render
from django.views.decorators.http import require_safe

from parts.fits.forms import QUESTIONS
from parts.fits.selectors import known_of


@require_safe
def standard_parts(request):
    """Each form puts its own question; what is asked stands in the address."""
    asked = request.GET.get("ask")
    forms = {
        name: question(request.GET if name == asked else None, auto_id=f"{name}-%s")
        for name, question in QUESTIONS.items()
    }
    form = forms.get(asked)
    context = {"forms": forms}
    if form and form.is_valid():
        context |= {"asked": asked, "found": known_of(form.found())}
        context["tension"] = form.tension() if asked == "belt" else None
    return render(request, "fits/standard_parts.html", context)
