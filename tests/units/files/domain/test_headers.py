import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factories.pictures import exif, picture
from units.files.domain.headers import Header, is_avif, read_header

SORTS = ["JPEG", "PNG", "WEBP"]


@pytest.mark.parametrize("sort", SORTS)
@pytest.mark.parametrize("size", [(1, 1), (640, 480), (3, 1000)])
def test_size_is_read_as_the_encoder_wrote_it(sort, size):
    assert read_header(picture(sort, size)) == Header(sort, *size)


def test_size_of_a_heic_is_read_as_the_encoder_wrote_it():
    assert read_header(picture("HEIF", (640, 480))) == Header("HEIF", 640, 480)


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


@pytest.mark.parametrize("sort", [*SORTS, "HEIF"])
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


@pytest.mark.parametrize(("brand", "avif"), [(b"heic", False), (b"avif", True), (b"isom", False)])
def test_avif_is_known_by_its_brand(brand, avif):
    assert is_avif(b"\x00\x00\x00\x18ftyp" + brand) is avif


def test_avif_under_the_common_brand_is_known_by_its_other_brands():
    content = b"\x00\x00\x00\x1cftypmif1" + b"\x00" * 4 + b"mif1avif"
    assert is_avif(content)
    assert read_header(content + picture("HEIF")[28:]) is None


def box(name: bytes, content: bytes) -> bytes:
    return (8 + len(content)).to_bytes(4, "big") + name + content


def heic(*boxes: bytes) -> bytes:
    """The head of a HEIC file with these boxes among its properties."""
    properties = box(b"iprp", box(b"ipco", b"".join(boxes)))
    return box(b"ftyp", b"heic\0\0\0\0heicmif1") + box(b"meta", bytes(4) + properties)


def size_box(width: int, height: int) -> bytes:
    return box(b"ispe", bytes(4) + width.to_bytes(4, "big") + height.to_bytes(4, "big"))


def test_heic_of_several_pictures_has_the_size_of_the_largest():
    content = heic(size_box(512, 512), box(b"pixi", bytes(8)), size_box(900, 700), size_box(9, 9))
    assert read_header(content) == Header("HEIF", 900, 700)


def test_box_of_eight_byte_size_is_passed_over():
    long = (1).to_bytes(4, "big") + b"free" + (24).to_bytes(8, "big") + bytes(8)
    assert read_header(heic(long, size_box(40, 30))) == Header("HEIF", 40, 30)


@pytest.mark.parametrize("size", [2, 7, 0xFFFFFFFF])
def test_box_that_lies_about_its_size_ends_the_reading(size):
    assert read_header(heic(size.to_bytes(4, "big") + b"free", size_box(40, 30))) is None
