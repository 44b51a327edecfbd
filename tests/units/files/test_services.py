import hashlib
from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db.models import ProtectedError
from django.utils import timezone
from PIL import Image

from tests.factories.pictures import exif, picture, upload
from tests.factories.units import MORNING, PersonFactory, PlateRecordFactory
from units.files.models import StoredFile
from units.files.services import (
    FileRefusedError,
    check_picture,
    content_of,
    discard_file,
    redrawn,
    store_picture,
    sweep_files,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_storage(settings, tmp_path):
    """A place for files of this test alone."""
    default = settings.STORAGES["default"] | {"OPTIONS": {"location": tmp_path}}
    settings.STORAGES = settings.STORAGES | {"default": default}
    return tmp_path


def stored_files(folder) -> list[str]:
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


def store(content=None, **more) -> StoredFile:
    by = PersonFactory()
    return store_picture(upload=upload(content, **more), by=by, at=MORNING)


def drawn(stored: StoredFile, path="path") -> Image.Image:
    with default_storage.open(getattr(stored, path)) as file:
        return Image.open(BytesIO(file.read()))


@pytest.mark.parametrize("sort", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_picture_of_each_kind_is_kept_as_jpeg(sort):
    stored = store(picture(sort, (40, 30)))
    assert drawn(stored).format == "JPEG"
    assert (stored.media_type, stored.width, stored.height) == ("image/jpeg", 40, 30)


def test_digest_is_that_of_the_upload():
    content = picture("PNG")
    assert store(content).original_digest == hashlib.sha256(content).hexdigest()


def test_size_is_that_of_the_stored_bytes(own_storage):
    stored = store()
    assert stored.size == (own_storage / stored.path).stat().st_size


def test_names_are_our_own_and_spread_over_folders():
    stored = store(name="../../etc/passwd.jpg")
    assert stored.path == f"{stored.pk.hex[:2]}/{stored.pk.hex}.jpg"
    assert stored.small_path == f"{stored.pk.hex[:2]}/{stored.pk.hex}-small.jpg"


def test_long_name_with_control_characters_is_kept_tidy():
    stored = store(name="a\x07b" + "x" * 300 + ".jpg")
    assert len(stored.original_name) <= 200
    assert stored.original_name.isprintable()


def test_longest_side_is_capped_at_3000_and_the_small_copy_at_480():
    stored = store(picture("PNG", (3600, 600)))
    assert (stored.width, stored.height) == (3000, 500)
    assert drawn(stored).size == (3000, 500)
    assert drawn(stored, "small_path").size == (480, 80)


def test_small_picture_is_not_blown_up():
    assert drawn(store(picture(size=(40, 30))), "small_path").size == (40, 30)


def test_position_and_camera_vanish():
    content = picture(exif=exif(camera="Pocket camera 3"))
    assert b"Pocket camera 3" in content
    stored = store(content)
    for path in ("path", "small_path"):
        assert not drawn(stored, path).getexif()
        with default_storage.open(getattr(stored, path)) as file:
            assert b"Pocket camera 3" not in file.read()


def test_comment_of_a_jpeg_vanishes():
    stored = store(picture(comment=b"telephone +1 202 555 0114"))
    with default_storage.open(stored.path) as file:
        assert b"555 0114" not in file.read()


def test_text_of_a_png_vanishes():
    from PIL.PngImagePlugin import PngInfo

    info = PngInfo()
    info.add_text("Author", "Robin Staff")
    stored = store(picture("PNG", pnginfo=info))
    with default_storage.open(stored.path) as file:
        assert b"Robin Staff" not in file.read()


def test_second_file_hidden_behind_the_picture_vanishes():
    stored = store(picture() + b"<script>alert(1)</script>PK\x03\x04")
    with default_storage.open(stored.path) as file:
        assert b"script" not in file.read()


def test_picture_lying_on_its_side_is_turned_upright():
    # Orientation 6: the camera was turned; what it wrote on the left belongs at the top.
    content = picture(size=(60, 40), colour=["red", "blue"], exif=exif(orientation=6))
    image = drawn(store(content))
    assert image.size == (40, 60)
    top, bottom = image.getpixel((20, 5)), image.getpixel((20, 55))
    assert top[0] > 200 > top[2]
    assert bottom[2] > 200 > bottom[0]


def test_transparent_picture_stands_on_white():
    content = picture("PNG", mode="RGBA", colour=(0, 0, 0, 0))
    assert drawn(store(content)).getpixel((5, 5)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("sort", "mode", "colour"),
    [
        ("PNG", "L", 90),
        ("PNG", "P", 3),
        ("PNG", "1", 1),
        ("PNG", "LA", (9, 9)),
        ("JPEG", "CMYK", 0),
    ],
)
def test_every_way_of_keeping_colours_is_drawn(sort, mode, colour):
    assert drawn(store(picture(sort, mode=mode, colour=colour))).mode == "RGB"


def test_grey_of_16_bits_keeps_its_shade():
    shade = drawn(store(picture("PNG", mode="I;16", colour=40_000))).getpixel((5, 5))
    assert shade == (156, 156, 156)


def test_too_many_bytes_are_refused(settings):
    settings.UPLOAD_MAX_BYTES = 1_000_000
    with pytest.raises(FileRefusedError, match="has 2 MB; a picture may have 1 MB"):
        check_picture(upload(picture() + b"\x00" * 1_000_001))


def test_too_many_pixels_are_refused_before_decoding(settings):
    settings.UPLOAD_MAX_PIXELS = 1_000_000
    # A header that promises 65535 x 65535 pixels, and nothing behind it to decode.
    content = bytearray(picture("PNG"))[:40]
    content[16:24] = b"\x00\x00\xff\xff\x00\x00\xff\xff"
    with pytest.raises(FileRefusedError, match="65535 by 65535 pixels"):
        check_picture(upload(bytes(content)))


def test_picture_of_exactly_the_most_pixels_is_taken(settings):
    settings.UPLOAD_MAX_PIXELS = 1200
    assert check_picture(upload(picture(size=(40, 30)))).pixels == 1200


@pytest.mark.parametrize("content", [b"%PDF-1.7 not a picture", b"<html><script></script>"])
def test_other_file_named_jpg_is_refused(content):
    with pytest.raises(FileRefusedError, match="not a picture that we can keep"):
        check_picture(upload(content, name="plate.jpg"))


def test_avif_picture_is_refused_with_the_way_out():
    with pytest.raises(FileRefusedError, match="Send a JPEG or HEIC copy"):
        check_picture(upload(b"\x00\x00\x00\x18ftypavif" + b"\x00" * 40))


@pytest.mark.parametrize("sort", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_picture_cut_off_on_its_way_is_refused_and_leaves_nothing(sort, own_storage):
    content = picture(sort, (200, 200), colour=["red", "blue"])
    with pytest.raises(FileRefusedError, match="damaged or was cut off"):
        store(content[: len(content) * 2 // 3])
    assert not StoredFile.objects.exists()
    assert stored_files(own_storage) == []


def test_picture_with_two_sizes_is_refused():
    content = bytearray(picture("WEBP", (40, 30), exif=exif()))
    content[24:27] = b"\x09\x00\x00"
    with pytest.raises(FileRefusedError, match="damaged"):
        store(bytes(content))


def test_files_are_removed_when_the_row_cannot_be_written(own_storage):
    # A person who was never saved cannot be named in a row.
    with pytest.raises(ValueError, match="unsaved"):
        store_picture(upload=upload(), by=PersonFactory.build(), at=MORNING)
    assert stored_files(own_storage) == []


def test_audience_nobody_knows_is_refused(own_storage):
    with pytest.raises(ValueError, match="nobody"):
        store_picture(upload=upload(), audience="nobody", by=PersonFactory(), at=MORNING)
    assert stored_files(own_storage) == []


def test_sweeping_removes_old_files_without_a_row_and_no_others(own_storage):
    stored = store()
    default_storage.save("aa/left.jpg", ContentFile(b"left over"))
    later = timezone.now() + timedelta(hours=1)
    assert sweep_files(before=later) == 1
    assert stored_files(own_storage) == sorted(
        [f"{stored.pk.hex}.jpg", f"{stored.pk.hex}-small.jpg"]
    )


def test_sweeping_spares_a_file_that_may_still_get_its_row(own_storage):
    default_storage.save("aa/young.jpg", ContentFile(b"being written"))
    assert sweep_files(before=timezone.now() - timedelta(hours=1)) == 0
    assert stored_files(own_storage) == ["young.jpg"]


def test_sweeping_a_shop_without_files_does_nothing(own_storage):
    own_storage.rmdir()
    assert sweep_files(before=timezone.now()) == 0


def test_heic_is_kept_upright_and_without_metadata():
    stored = store(picture("HEIF", (300, 200), ["red", "blue"], exif=exif(6).tobytes()))
    assert (stored.width, stored.height) == (200, 300)
    image = drawn(stored)
    assert not image.getexif()
    red, _green, blue = image.getpixel((100, 20))
    assert red > 200 > blue


def test_heic_larger_than_it_says_is_refused_before_it_is_decoded():
    content = picture("HEIF", (640, 480))
    place = content.index(b"ispe") + 8
    lying = content[:place] + (64).to_bytes(4, "big") + (48).to_bytes(4, "big")
    with pytest.raises(FileRefusedError, match="damaged"):
        store(lying + content[place + 8 :])


def test_picture_of_forty_million_pixels_is_refused_with_a_sentence():
    with pytest.raises(
        FileRefusedError, match="8000 by 5000 pixels; a picture may have 25 million"
    ):
        check_picture(upload(picture("PNG", (8000, 5000), mode="L", colour=0)))


def test_largest_picture_of_a_telephone_of_twenty_four_megapixels_is_kept(own_storage):
    stored = store_picture(
        upload=upload(picture("JPEG", (5712, 4284))), longest=4096, by=PersonFactory(), at=MORNING
    )
    assert (stored.width, stored.height) == (4096, 3072)


def test_heic_of_a_picture_too_large_is_refused_by_its_header():
    content = picture("HEIF", (640, 480))
    place = content.index(b"ispe") + 8
    claim = (60_000).to_bytes(4, "big") * 2
    with pytest.raises(FileRefusedError, match="60000 by 60000"):
        store(content[:place] + claim + content[place + 8 :])


def test_png_that_claims_to_be_small_and_is_a_bomb_is_refused():
    """A header of 40 by 30 before the data of a picture sixty thousand times as large."""
    content = bytearray(picture("PNG", (8000, 9000), mode="L", colour=0))
    content[16:24] = (40).to_bytes(4, "big") + (30).to_bytes(4, "big")
    with pytest.raises(FileRefusedError, match="damaged"):
        store(bytes(content))


def test_picture_drawn_anew_is_what_would_be_kept():
    content = picture("PNG", (200, 100))
    assert redrawn(upload=upload(content)) == content_of(file=store(content))


def test_discarded_file_leaves_neither_row_nor_copies(own_storage):
    discard_file(file=store())
    assert not StoredFile.objects.exists()
    assert stored_files(own_storage) == []


def test_file_that_a_row_names_is_not_discarded(own_storage):
    stored = store()
    PlateRecordFactory(photo=stored)
    with pytest.raises(ProtectedError):
        discard_file(file=stored)
    assert len(stored_files(own_storage)) == 2
