"""A piece of a photo, upright and large enough to read."""

from io import BytesIO

from PIL import Image

from units.plates.domain.proposal import Box, Point

MARGIN = 0.45  # of the shorter side, on every side: what stands next to a text helps to read it
GROUND = (224, 224, 224)  # where the margin reaches beyond the photo
TALL, WIDE = 140, 900  # pixels: a piece is drawn this tall, or less where it would become too wide
SHORTEST = 24
QUALITY = 90


def piece_of(photo: bytes, box: Box, tall: int = TALL, margin: float = MARGIN) -> bytes:
    """What stands in ``box``, with a margin, turned upright, as JPEG; ``tall`` in pixels.

    ``photo`` is an upright picture as it is stored. Raises OSError when it is damaged.
    """
    with Image.open(BytesIO(photo)) as image:
        corners = _widened([(x * image.width, y * image.height) for x, y in box], margin)
        upper_left, upper_right, lower_right, lower_left = corners
        quad = [*upper_left, *lower_left, *lower_right, *upper_right]
        size = _size(corners, tall)
        turned = image.convert("RGB").transform(
            size, Image.Transform.QUAD, quad, Image.Resampling.BICUBIC, fillcolor=GROUND
        )
    out = BytesIO()
    turned.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def _length(start: Point, end: Point) -> float:
    return ((start[0] - end[0]) ** 2 + (start[1] - end[1]) ** 2) ** 0.5


def _sides(corners: list[Point]) -> tuple[float, float]:
    """Width and height of a quadrangle: the longer of each two."""
    one, two, three, four = corners
    return (
        max(_length(one, two), _length(four, three), 1.0),
        max(_length(one, four), _length(two, three), 1.0),
    )


def _widened(corners: list[Point], margin: float) -> list[Point]:
    """The quadrangle with a margin around it, along its own two directions."""
    width, height = _sides(corners)
    margin *= min(width, height)
    one, two, three, four = corners
    along = _unit((one[0] + four[0], one[1] + four[1]), (two[0] + three[0], two[1] + three[1]))
    down = _unit((one[0] + two[0], one[1] + two[1]), (four[0] + three[0], four[1] + three[1]))
    signs = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    return [
        (
            x + margin * (right * along[0] + below * down[0]),
            y + margin * (right * along[1] + below * down[1]),
        )
        for (x, y), (right, below) in zip(corners, signs, strict=True)
    ]


def _unit(start: Point, end: Point) -> Point:
    length = _length(start, end) or 1.0
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length


def _size(corners: list[Point], tall: int) -> tuple[int, int]:
    width, height = _sides(corners)
    scale = min(tall / height, WIDE / width)
    return max(SHORTEST, round(width * scale)), max(SHORTEST, round(height * scale))
