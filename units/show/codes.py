"""QR codes that lead a phone to a page."""

from io import BytesIO

import segno
from django.conf import settings
from django.http import HttpResponse


def code_of(request, path: str) -> HttpResponse:
    """A QR code (ISO/IEC 18004) as SVG: the whole address of a page, as phones reach the shop."""
    address = request.build_absolute_uri(settings.PUBLIC_ADDRESS.rstrip("/") + path)
    picture = BytesIO()
    segno.make(address, error="m", micro=False).save(
        picture, kind="svg", scale=6, border=4, dark="#000", light="#fff"
    )
    return HttpResponse(picture.getvalue(), content_type="image/svg+xml")
