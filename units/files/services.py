"""Keep an uploaded picture: check it, draw it again, store it under a name of our own.

Drawing again keeps the pixels and nothing else: no position, no camera, no second file hidden
behind the picture. A PDF cannot be drawn again: it is kept as it came and never shown in a page of
ours, only handed out to be saved (see ``views.show_file``).
"""

import hashlib
import uuid
from datetime import datetime
from io import BytesIO

from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser
from django.core.files.base import ContentFile, File
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils.translation import gettext as _
from pi_heif import register_heif_opener
from PIL import Image, ImageOps

from units.files.domain.headers import Header, is_avif, is_pdf, is_whole_pdf, read_header
from units.files.models import StoredFile

LONGEST_SIDE = 3000
SMALL_SIDE = 480
QUALITY = 88
MILLION = 1_000_000
PDF = "application/pdf"

# Only for whoever asks for this kind by name, as _draw does once the header has been read.
register_heif_opener(thumbnails=False, depth_images=False, aux_images=False)


class FileRefusedError(ValueError):
    """An upload that is not kept. Its text is a sentence that says how to mend it."""


def check_picture(upload: File) -> Header:
    """The cheap checks: bytes, kind by content, pixels by the header. Nothing is decoded.

    Raises FileRefusedError.
    """
    _require_small(
        upload,
        _(
            "“%(name)s” has %(size)d MB; a picture may have %(most)d MB. "
            "Take it again at a lower resolution."
        ),
    )
    content = _content(upload)
    header = read_header(content)
    if header is None:
        raise FileRefusedError(_not_a_picture(content) % {"name": upload.name})
    if header.pixels > settings.UPLOAD_MAX_PIXELS:
        raise FileRefusedError(
            _(
                "“%(name)s” measures %(width)d by %(height)d pixels; a picture may have "
                "%(most)d million in all. Take it again at a lower resolution."
            )
            % {
                "name": upload.name,
                "width": header.width,
                "height": header.height,
                "most": settings.UPLOAD_MAX_PIXELS // MILLION,
            }
        )
    return header


def check_paper(upload: File) -> None:
    """The cheap checks of a PDF or a picture. Raises FileRefusedError."""
    content = _content(upload)
    if not is_pdf(content):
        if read_header(content) is None:
            raise FileRefusedError(
                _("“%(name)s” is neither a PDF nor a picture. Choose a PDF, JPEG or PNG file.")
                % {"name": upload.name}
            )
        check_picture(upload)
        return
    _require_small(
        upload,
        _("“%(name)s” has %(size)d MB; a PDF may have %(most)d MB. Keep the pages that you need."),
    )
    if not is_whole_pdf(content):
        raise FileRefusedError(
            _("“%(name)s” is damaged or was cut off on its way. Fetch the PDF again.")
            % {"name": upload.name}
        )


def store_paper(
    *, upload: File, audience: str = "bench", by: AbstractBaseUser, at: datetime
) -> StoredFile:
    """Keep a PDF as it is, or a picture as ``store_picture`` does. Raises FileRefusedError."""
    check_paper(upload)
    content = _content(upload)
    if not is_pdf(content):
        return store_picture(upload=upload, audience=audience, by=by, at=at)
    own_name = uuid.uuid4()
    path = default_storage.save(f"{own_name.hex[:2]}/{own_name.hex}.pdf", ContentFile(content))
    try:
        with transaction.atomic():
            return StoredFile.objects.create(
                id=own_name,
                audience=StoredFile.Audience(audience),
                original_name=_tidy_name(upload.name),
                original_digest=digest_of(upload),
                media_type=PDF,
                path=path,
                size=len(content),
                stored_at=at,
                stored_by=by,
            )
    except BaseException:
        default_storage.delete(path)
        raise


def store_picture(
    *,
    upload: File,
    audience: str = "bench",
    longest: int = LONGEST_SIDE,
    by: AbstractBaseUser,
    at: datetime,
) -> StoredFile:
    """Check, draw again as JPEG (``longest`` side in pixels, and a small copy) and keep.

    Raises FileRefusedError. When the row cannot be written, the files are removed again.
    """
    large = _draw(upload, check_picture(upload), longest)
    small = large.copy()
    small.thumbnail((SMALL_SIDE, SMALL_SIDE))
    own_name = uuid.uuid4()
    stem = f"{own_name.hex[:2]}/{own_name.hex}"
    paths = []
    try:
        for path, picture in ((f"{stem}.jpg", large), (f"{stem}-small.jpg", small)):
            paths.append(default_storage.save(path, _as_jpeg(picture)))
        with transaction.atomic():
            return StoredFile.objects.create(
                id=own_name,
                audience=StoredFile.Audience(audience),
                original_name=_tidy_name(upload.name),
                original_digest=digest_of(upload),
                media_type="image/jpeg",
                path=paths[0],
                small_path=paths[1],
                size=default_storage.size(paths[0]),
                width=large.width,
                height=large.height,
                stored_at=at,
                stored_by=by,
            )
    except BaseException:
        for path in paths:
            default_storage.delete(path)
        raise


def redrawn(*, upload: File, longest: int = LONGEST_SIDE) -> bytes:
    """The JPEG that ``store_picture`` would keep. Raises FileRefusedError."""
    return _as_jpeg(_draw(upload, check_picture(upload), longest)).read()


def content_of(*, file: StoredFile) -> bytes:
    """The bytes as they are kept. Raises OSError when they are no longer on the disk."""
    with default_storage.open(file.path) as kept:
        return kept.read()


def discard_file(*, file: StoredFile) -> None:
    """Remove a file that turned out not to be needed. Raises ProtectedError when a row names it."""
    file.delete()
    for path in filter(None, (file.path, file.small_path)):
        default_storage.delete(path)


def digest_of(upload: File) -> str:
    """SHA-256 of the bytes as they were uploaded."""
    return hashlib.sha256(_content(upload)).hexdigest()


def _require_small(upload: File, sentence: str) -> None:
    if upload.size > settings.UPLOAD_MAX_BYTES:
        raise FileRefusedError(
            sentence
            % {
                "name": upload.name,
                "size": -(-upload.size // MILLION),
                "most": settings.UPLOAD_MAX_BYTES // MILLION,
            }
        )


def _content(upload: File) -> bytes:
    upload.seek(0)
    return upload.read()


def _draw(upload: File, header: Header, longest: int) -> Image.Image:
    """The picture upright, in plain colours, without anything that came along with it."""
    try:
        with Image.open(BytesIO(_content(upload)), formats=[header.sort]) as image:
            if not _agree(image.size, header):
                raise ValueError("two sizes in one file")
            # First of all, so that what follows works on a picture of bounded size.
            image.thumbnail((longest, longest))
            upright = ImageOps.exif_transpose(image)
            if upright.mode == "I;16":
                # Grey in 65536 steps, which converting would cut off at 255 instead of scaling.
                upright = upright.point(lambda step: step * (1 / 256)).convert("L")
            if upright.has_transparency_data:
                ground = Image.new("RGBA", upright.size, "white")
                upright = Image.alpha_composite(ground, upright.convert("RGBA"))
            picture = upright.convert("RGB")
    except Exception as error:
        # A decoder meets hostile bytes here and raises whatever it likes.
        raise FileRefusedError(
            _("“%(name)s” is damaged or was cut off on its way. Take the picture again.")
            % {"name": upload.name}
        ) from error
    picture.info = {}
    return picture


def _agree(size: tuple[int, int], header: Header) -> bool:
    """Whether the decoder means the picture that was checked; a HEIC may turn or crop it."""
    if header.sort == "HEIF":
        return size[0] * size[1] <= header.pixels
    return size == (header.width, header.height)


def _as_jpeg(picture: Image.Image) -> ContentFile:
    out = BytesIO()
    picture.save(out, "JPEG", quality=QUALITY, optimize=True)
    return ContentFile(out.getvalue())


def _tidy_name(name: str | None) -> str:
    return "".join(letter for letter in name or "" if letter.isprintable())[:200] or "picture"


def _not_a_picture(content: bytes) -> str:
    if is_avif(content):
        return _("“%(name)s” is an AVIF picture, which we cannot read. Send a JPEG or HEIC copy.")
    return _("“%(name)s” is not a picture that we can keep. Choose a JPEG, PNG, WebP or HEIC file.")


def sweep_files(*, before: datetime) -> int:
    """Remove stored files older than ``before`` that no row names; how many there were.

    A file is written before its row, and a transaction that is undone takes back the row alone.
    """
    folders, _files = default_storage.listdir("") if default_storage.exists("") else ([], [])
    stored = [f"{top}/{name}" for top in folders for name in default_storage.listdir(top)[1]]
    named = set(StoredFile.objects.values_list("path", flat=True))
    named |= set(StoredFile.objects.values_list("small_path", flat=True))
    orphans = [
        path
        for path in stored
        if path not in named and default_storage.get_modified_time(path) < before
    ]
    for path in orphans:
        default_storage.delete(path)
    return len(orphans)
