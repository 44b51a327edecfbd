from io import BytesIO

import pytest
from PIL import Image, ImageDraw

from tests.factories.pictures import picture
from tests.factories.plates import box
from units.plates.domain.pieces import WIDE, piece_of


def opened(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def near(colour, wanted) -> bool:
    return max(abs(one - two) for one, two in zip(colour, wanted, strict=True)) < 40


@pytest.fixture
def photo():
    """White, with a bar that is red on its left and blue on its right half."""
    image = Image.new("RGB", (800, 600), "white")
    draw = ImageDraw.Draw(image)
    draw.rectangle((200, 300, 399, 339), fill="red")
    draw.rectangle((400, 300, 599, 339), fill="blue")
    return image


def as_jpeg(image: Image.Image) -> bytes:
    out = BytesIO()
    image.save(out, "JPEG", quality=95)
    return out.getvalue()


BAR = box(200 / 800, 300 / 600, 600 / 800, 340 / 600)


def assert_shows_the_bar(piece: Image.Image) -> None:
    left, right = piece.width * 0.3, piece.width * 0.7
    assert near(piece.getpixel((left, piece.height // 2)), (255, 0, 0))
    assert near(piece.getpixel((right, piece.height // 2)), (0, 0, 255))
    assert near(piece.getpixel((piece.width // 2, 3)), (255, 255, 255))


def test_a_piece_shows_the_box_with_a_margin_and_is_enlarged(photo):
    piece = opened(piece_of(as_jpeg(photo), BAR))
    assert_shows_the_bar(piece)
    assert (piece.height, piece.width) == (140, 803)


def test_a_long_piece_is_drawn_no_wider_than_a_screen():
    long = box(0, 0.5, 1, 0.51)
    assert opened(piece_of(picture(size=(800, 600)), long)).width == WIDE


def test_a_box_that_stands_on_its_head_is_turned_upright(photo):
    turned = photo.transpose(Image.Transpose.ROTATE_180)
    corners = tuple((1 - x, 1 - y) for x, y in BAR)
    assert_shows_the_bar(opened(piece_of(as_jpeg(turned), corners)))


def test_a_box_on_its_side_is_turned_upright(photo):
    turned = photo.transpose(Image.Transpose.ROTATE_90)  # counter-clockwise
    corners = tuple((y, 1 - x) for x, y in BAR)
    assert_shows_the_bar(opened(piece_of(as_jpeg(turned), corners)))


def test_a_margin_beyond_the_photo_is_grey():
    piece = opened(piece_of(picture(size=(400, 300)), box(0, 0, 1, 1), margin=0.5))
    assert near(piece.getpixel((2, 2)), (224, 224, 224))


def test_a_box_without_extent_still_gives_a_picture():
    point = ((0.5, 0.5),) * 4
    assert min(opened(piece_of(picture(), point)).size) >= 24


def test_a_damaged_photo_is_an_error():
    with pytest.raises(OSError, match="truncated"):
        piece_of(picture(size=(300, 300))[:-200], BAR)
