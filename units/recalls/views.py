from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from units.catalogue.models import Unit
from units.recalls.forms import CheckForm
from units.recalls.services import RecallError, record_check


@require_http_methods(["GET", "POST"])
def add_check(request, pk):
    unit = get_object_or_404(Unit.objects.with_identity(), pk=pk)
    form = CheckForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            record_check(unit=unit, by=request.user, at=timezone.now(), **form.cleaned_data)
        except RecallError as error:
            form.add_error(error.field, str(error))
        else:
            messages.success(request, _("The recall check is recorded."))
            return redirect(reverse("machine", args=[pk]))
    status = 422 if form.errors else 200
    return render(request, "recalls/check_add.html", {"form": form, "unit": unit}, status=status)
