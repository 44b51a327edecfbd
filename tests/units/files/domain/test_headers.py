import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factories.pictures import exif, picture
from units.files.domain.headers import Header, is_phone_format, read_header

SORTS = ["JPEG", "PNG", "WEBP"]


@pytest.mark.parametrize("sort", SORTS)
@pytest.mark.parametrize("size", [(1, 1), (640, 480), (3, 1000)])
def test_size_is_read_as_the_encoder_wrote_it(sort, size):
    assert read_header(picture(sort, size)) == Header(sort, *size)


@pytest.mark.parametrize(
    ("sort", "options"),
    [
        ("JPEG", {"progressive": True}),
        ("JPEG", {"exif": exif(), "comment": b"x" * 60_000}),
        ("WEBP", {"lossless": True}),
        ("WEBP", {"exif": exif()}),
        ("PNG", {"optimize": True}),
    ],
)
def test_every_variant_of_a_kind_is_read(sort, options):
    assert read_header(picture(sort, (321, 123), **options)) == Header(sort, 321, 123)


def test_jpeg_with_fill_bytes_before_a_marker_is_read():
    content = picture()
    assert read_header(content[:2] + b"\xff\xff" + content[2:]) == Header("JPEG", 40, 30)


@pytest.mark.parametrize("sort", SORTS)
def test_header_cut_short_is_no_picture(sort):
    assert read_header(picture(sort)[:15]) is None


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"%PDF-1.7",
        b"<svg xmlns='http://www.w3.org/2000/svg'></svg>",
        b"GIF89a" + b"\x01" * 40,
        b"\xff\xd8\xff\xd9" + b"\x00" * 20,
        b"\xff\xd8\xff\xe0\x00\x02no marker here",
        b"RIFF\x00\x00\x00\x00WEBPALPH" + b"\x00" * 20,
        b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + b"\x00" * 8,
    ],
)
def test_other_content_is_no_picture(content):
    assert read_header(content) is None


@given(st.sampled_from([b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF"]), st.binary())
def test_reading_any_bytes_ends_without_an_error(start, rest):
    header = read_header(start + rest)
    assert header is None or header.pixels > 0


def test_pixels_are_width_times_height():
    assert Header("PNG", 30, 20).pixels == 600


@pytest.mark.parametrize(("brand", "phone"), [(b"heic", True), (b"avif", True), (b"isom", False)])
def test_telephones_own_format_is_known_by_its_brand(brand, phone):
    assert is_phone_format(b"\x00\x00\x00\x18ftyp" + brand) is phone
