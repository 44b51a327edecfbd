"""What a picture's first bytes say of it, read before any decoder sees the file.

JPEG (ITU-T T.81, annex B), PNG (W3C PNG, section 11.2.1) and WebP (RFC 9649, section 2).
"""

from dataclasses import dataclass

PNG_START = b"\x89PNG\r\n\x1a\n"
# Start-of-frame markers; C4, C8 and CC in the same range mean something else (T.81, table B.1).
FRAMES = set(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
# Markers that stand alone, without a length: TEM, RST0 to RST7 and SOI.
ALONE = {0x01, *range(0xD0, 0xD9)}
SCAN_OR_END = {0xD9, 0xDA}
PHONE_BRANDS = {b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif"}


@dataclass(frozen=True)
class Header:
    """The kind of a picture (``JPEG``, ``PNG``, ``WEBP``) and its size in pixels."""

    sort: str
    width: int
    height: int

    @property
    def pixels(self) -> int:
        return self.width * self.height


def read_header(content: bytes) -> Header | None:
    """None when the file is no picture of the three kinds, or its header is cut short."""
    for sort, size_of in (("JPEG", _jpeg_size), ("PNG", _png_size), ("WEBP", _webp_size)):
        size = size_of(content)
        if size and min(size) > 0:
            return Header(sort, *size)
    return None


def is_phone_format(content: bytes) -> bool:
    """A HEIC or AVIF picture, as some telephones keep them (ISO/IEC 23008-12, brands)."""
    return content[4:8] == b"ftyp" and content[8:12] in PHONE_BRANDS


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
