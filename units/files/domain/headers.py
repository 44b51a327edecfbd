"""What a picture's first bytes say of it, read before any decoder sees the file.

JPEG (ITU-T T.81, annex B), PNG (W3C PNG, section 11.2.1), WebP (RFC 9649, section 2) and HEIC
(boxes of ISO/IEC 14496-12, section 4.2; brands and ``ispe`` of ISO/IEC 23008-12). A PDF is known by
its first line and its last (ISO 32000-1, sections 7.5.2 and 7.5.5).
"""

from collections.abc import Iterator
from dataclasses import dataclass

PNG_START = b"\x89PNG\r\n\x1a\n"
# Start-of-frame markers; C4, C8 and CC in the same range mean something else (T.81, table B.1).
FRAMES = set(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
# Markers that stand alone, without a length: TEM, RST0 to RST7 and SOI.
ALONE = {0x01, *range(0xD0, 0xD9)}
SCAN_OR_END = {0xD9, 0xDA}
HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"mif1"}
AVIF_BRANDS = {b"avif", b"avis"}
PDF_START, PDF_END = b"%PDF-", b"%%EOF"
# Readers of PDF look for the last line so far before the end.
PDF_TAIL = 1024
# Where a HEIC file says how large its pictures are, and how many bytes stand before the boxes in
# each box on the way.
WAY_TO_SIZES = ((b"meta", 4), (b"iprp", 0), (b"ipco", 0))


@dataclass(frozen=True)
class Header:
    """The kind of a picture (``JPEG``, ``PNG``, ``WEBP``, ``HEIF``) and its size in pixels.

    A HEIC file holds several pictures: the size is that of the largest, before it is turned.
    """

    sort: str
    width: int
    height: int

    @property
    def pixels(self) -> int:
        return self.width * self.height


def read_header(content: bytes) -> Header | None:
    """None when the file is no picture of the four kinds, or its header is cut short."""
    for sort, size_of in SIZES.items():
        size = size_of(content)
        if size and min(size) > 0:
            return Header(sort, *size)
    return None


def is_avif(content: bytes) -> bool:
    """An AVIF picture, as some telephones keep them."""
    return bool(_brands(content) & AVIF_BRANDS)


def is_pdf(content: bytes) -> bool:
    """A PDF, as its first bytes say; whether it is whole is another question."""
    return content.startswith(PDF_START)


def is_whole_pdf(content: bytes) -> bool:
    return is_pdf(content) and PDF_END in content[-PDF_TAIL:]


def _png_size(content: bytes) -> tuple[int, int] | None:
    if not content.startswith(PNG_START) or content[12:16] != b"IHDR" or len(content) < 24:
        return None
    return int.from_bytes(content[16:20], "big"), int.from_bytes(content[20:24], "big")


def _jpeg_size(content: bytes) -> tuple[int, int] | None:
    if not content.startswith(b"\xff\xd8\xff"):
        return None
    place = 2
    while place + 9 <= len(content):
        if content[place] != 0xFF:
            return None
        marker = content[place + 1]
        if marker == 0xFF or marker in ALONE:
            place += 1 if marker == 0xFF else 2
        elif marker in FRAMES:
            height, width = content[place + 5 : place + 7], content[place + 7 : place + 9]
            return int.from_bytes(width, "big"), int.from_bytes(height, "big")
        elif marker in SCAN_OR_END:
            return None
        else:
            place += 2 + int.from_bytes(content[place + 2 : place + 4], "big")
    return None


def _webp_size(content: bytes) -> tuple[int, int] | None:
    if content[:4] != b"RIFF" or content[8:12] != b"WEBP" or len(content) < 30:
        return None
    match content[12:16]:
        case b"VP8X":
            return _three_bytes(content, 24) + 1, _three_bytes(content, 27) + 1
        case b"VP8L":
            bits = int.from_bytes(content[21:25], "little")
            return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
        case b"VP8 ":
            width = int.from_bytes(content[26:28], "little")
            return width & 0x3FFF, int.from_bytes(content[28:30], "little") & 0x3FFF
    return None


def _three_bytes(content: bytes, place: int) -> int:
    return int.from_bytes(content[place : place + 3], "little")


def _heic_size(content: bytes) -> tuple[int, int] | None:
    brands = _brands(content)
    if brands & AVIF_BRANDS or not brands & HEIC_BRANDS:
        return None
    found = [(0, len(content))]
    for name, skipped in WAY_TO_SIZES:
        found = [
            (start + skipped, end)
            for outer in found
            for box, start, end in _boxes(content, *outer)
            if box == name
        ]
    sizes = [
        (
            int.from_bytes(content[start + 4 : start + 8], "big"),
            int.from_bytes(content[start + 8 : start + 12], "big"),
        )
        for outer in found
        for box, start, end in _boxes(content, *outer)
        if box == b"ispe" and end - start >= 12
    ]
    return max(sizes, key=lambda size: size[0] * size[1], default=None)


def _brands(content: bytes) -> set[bytes]:
    """What a file of boxes says it can be read as."""
    if content[4:8] != b"ftyp":
        return set()
    end = min(int.from_bytes(content[:4], "big"), len(content), 256)
    return {content[place : place + 4] for place in (8, *range(16, end, 4))}


def _boxes(content: bytes, place: int, end: int) -> Iterator[tuple[bytes, int, int]]:
    """Each box between two places: its name, where its content starts and where it ends."""
    while place + 8 <= end:
        size, name = (
            int.from_bytes(content[place : place + 4], "big"),
            content[place + 4 : place + 8],
        )
        start = place + 8
        if size == 1:  # the true size follows in eight bytes
            size, start = int.from_bytes(content[start : start + 8], "big"), place + 16
        # A file cut off on its way ends amid a box: what stands before that is read.
        stop = min(place + size, end) if size else end
        if stop < start:
            return
        yield name, start, stop
        place = stop


SIZES = {"JPEG": _jpeg_size, "PNG": _png_size, "WEBP": _webp_size, "HEIF": _heic_size}
