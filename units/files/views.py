from pathlib import Path

from django.conf import settings
from django.core.files.storage import default_storage
from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404
from django.utils.cache import get_conditional_response
from django.utils.module_loading import import_string
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET

from units.files.models import StoredFile
from units.files.services import PDF


@require_GET
def show_file(request, pk, small=False):
    """A stored file for the seats of its audience; for all others it does not exist."""
    stored = get_object_or_404(StoredFile, pk=pk)
    if not import_string(settings.FILE_GATE)(request.seats, stored.audience):
        raise Http404(_("There is no such file."))
    path = stored.small_path if small and stored.small_path else stored.path
    etag = f'"{Path(path).stem}"'
    if unchanged := get_conditional_response(request, etag=etag):
        return unchanged
    try:
        content = default_storage.open(path)
    except FileNotFoundError as error:
        raise Http404(_("The picture is no longer on this computer's disk.")) from error
    # A PDF may carry scripts of its own: it is saved, never opened inside a page of ours.
    response = FileResponse(
        content,
        as_attachment=stored.media_type == PDF,
        filename=own_name(stored),
        content_type=stored.media_type,
    )
    response["X-Content-Type-Options"] = "nosniff"
    # Kept by the browser, but asked for again each time: the next person may have another seat.
    response["Cache-Control"] = "private, no-cache"
    response["ETag"] = etag
    return response


def own_name(stored: StoredFile) -> str:
    """A PDF that is saved keeps the name by which a person knows it."""
    if stored.media_type == PDF:
        return f"{Path(stored.original_name).stem}.pdf"
    return f"{stored.pk.hex}.{stored.media_type.rpartition('/')[2]}"
