"""Barcodes in a picture, decoded by the library zxing-cpp."""

from collections.abc import Iterable

import cv2
import numpy as np
import zxingcpp

from units.plates.domain.proposal import Barcode
from units.plates.domain.sight.frames import Frame

# Symbols that plates carry. Code 39 (ISO/IEC 16388), Code 128 (15417), QR (18004), Data Matrix
# (16022), and the trade numbers EAN-13 and UPC-A (15420), known so as not to be taken for more.
FORMATS = [
    zxingcpp.BarcodeFormat.Code39,
    zxingcpp.BarcodeFormat.Code128,
    zxingcpp.BarcodeFormat.QRCode,
    zxingcpp.BarcodeFormat.DataMatrix,
    zxingcpp.BarcodeFormat.EAN13,
    zxingcpp.BarcodeFormat.UPCA,
]
SHORTEST = 4  # a Code 39 without check character finds two or three letters in any fence
LARGEST = 2000  # pixels on the longer side: more costs time and finds no more


def decode(frames: Iterable[Frame]) -> tuple[Barcode, ...]:
    """The symbols of a plate, each once: what the nearer picture shows, then what others add."""
    found: dict[str, Barcode] = {}
    for frame in frames:
        for one in _decode(frame):
            found.setdefault(one.text, one)
    return tuple(found.values())


def _decode(frame: Frame) -> tuple[Barcode, ...]:
    grey = cv2.cvtColor(frame.picture, cv2.COLOR_BGR2GRAY)
    scale = min(1.0, LARGEST / max(grey.shape))
    if scale < 1:
        grey = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    found = {}
    for one in zxingcpp.read_barcodes(grey, FORMATS, text_mode=zxingcpp.TextMode.Plain):
        # Control characters part the fields of a Data Matrix.
        text = "".join(char if char.isprintable() else " " for char in one.text).strip()
        if len(text) >= SHORTEST:
            found.setdefault(text, Barcode(str(one.format), text, _box(frame, one, scale)))
    return tuple(found.values())


def _box(frame: Frame, one, scale: float):
    corners = (
        one.position.top_left,
        one.position.top_right,
        one.position.bottom_right,
        one.position.bottom_left,
    )
    return frame.to_box(np.array([(corner.x, corner.y) for corner in corners]) / scale)
