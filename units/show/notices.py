"""What a page says once a form was sent."""

from datetime import datetime

from django.contrib import messages
from django.http import HttpRequest
from django.utils.translation import gettext as _

from units.show.words import moment


def tell(request: HttpRequest, done: str, *, written_at: datetime, at: datetime) -> None:
    """Say what was done; or, of a form that was sent before, that nothing was written again.

    A once-only key gives the first document again: that was written before ``at``, the moment of
    this request. Whoever went back to a form and changed it must not read that it was done.
    """
    if written_at == at:
        messages.success(request, done)
        return
    messages.warning(
        request,
        _(
            "This form was sent before, %(moment)s: what it wrote then stands, and nothing was "
            "written again. For something new, open the page anew."
        )
        % {"moment": moment(written_at)},
    )
