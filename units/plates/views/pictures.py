from django.conf import settings
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.cache import get_conditional_response
from django.utils.module_loading import import_string
from django.utils.translation import gettext as _
from django.views.decorators.http import require_GET

from units.files.services import content_of
from units.plates.domain.pieces import piece_of
from units.plates.domain.proposal import Box, FieldName, Proposal
from units.plates.models import PlateReading

PLATE = "plate"
WHOLE = {"tall": 620, "margin": 0.04}  # a plate, in pixels, has its own edge


@require_GET
def show_piece(request, pk, field):
    """The piece of a photo that a field was read from, or the whole ``plate``."""
    reading = get_object_or_404(PlateReading.objects.select_related("photo"), pk=pk)
    if not import_string(settings.FILE_GATE)(request.seats, reading.photo.audience):
        raise Http404(_("There is no such file."))
    box = _box_of(reading.read, field)
    if box is None:
        raise Http404(_("Nothing was read there."))
    etag = f'"{reading.pk.hex}-{field}"'
    if unchanged := get_conditional_response(request, etag=etag):
        return unchanged
    try:
        photo = content_of(file=reading.photo)
    except OSError as error:
        raise Http404(_("The picture is no longer on this computer's disk.")) from error
    response = HttpResponse(
        piece_of(photo, box, **(WHOLE if field == PLATE else {})), content_type="image/jpeg"
    )
    # What was read never changes, but the next person here may have another seat: ask each time.
    response["Cache-Control"], response["ETag"] = "private, no-cache", etag
    return response


def _box_of(proposal: Proposal | None, field: str) -> Box | None:
    if proposal is None:
        return None
    if field == PLATE:
        return proposal.plate
    name = FieldName(field) if field in set(FieldName) else None
    return proposal.fields[name].box if name in proposal.fields else None
