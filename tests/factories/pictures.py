"""Real pictures, drawn on the spot."""

from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from pillow_heif import from_pillow

GPS = 0x8825
ORIENTATION = 0x0112


def picture(sort="JPEG", size=(40, 30), colour="teal", mode="RGB", **options) -> bytes:
    """The bytes of a picture of one colour; a list of two paints its left and right half."""
    colours = colour if isinstance(colour, list) else [colour, colour]
    image = Image.new(mode, size, colours[0])
    image.paste(colours[1], (size[0] // 2, 0, *size))
    out = BytesIO()
    if sort == "HEIF":
        from_pillow(image).save(out, **options)
    else:
        image.save(out, sort, **options)
    return out.getvalue()


def exif(orientation=1, camera="Pocket camera 3", latitude=(51, 30, 0)) -> Image.Exif:
    """What a telephone writes into a picture: which way is up, its name and where it was."""
    facts = Image.Exif()
    facts[ORIENTATION] = orientation
    facts[0x0110] = camera
    facts[GPS] = {1: "N", 2: latitude}
    return facts


def upload(content: bytes | None = None, name="plate.jpg", kind="image/jpeg"):
    return SimpleUploadedFile(name, picture() if content is None else content, kind)


def pdf(text="A manual", end=b"%%EOF\n") -> bytes:
    """The bytes of the smallest PDF that has a page: ISO 32000-1, annex H.2, in its order."""
    return b"\n".join(
        [
            b"%PDF-1.7",
            b"1 0 obj << /Type /Catalog /Pages 2 0 R >> endobj",
            b"2 0 obj << /Type /Pages /Kids [3 0 R] /Count 1 >> endobj",
            b"3 0 obj << /Type /Page /Parent 2 0 R /MediaBox [0 0 200 200] >> endobj",
            b"% " + text.encode(),
            b"trailer << /Root 1 0 R >>",
            end,
        ]
    )
