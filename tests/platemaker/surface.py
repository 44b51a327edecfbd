"""What a plate is made of and what years in a gym did to it. Pictures are RGB arrays of uint8."""

from dataclasses import dataclass
from random import Random

import cv2
import numpy as np

from tests.platemaker.sheet import Sheet

EASY, NORMAL, HARD = "easy", "normal", "hard"
STRENGTH = {EASY: 0.2, NORMAL: 0.55, HARD: 1.0}


@dataclass
class Plate:
    """A drawn plate as pixels; ``mask`` is 255 where there is plate, ``points`` are the middles of
    its identity print in pixels, ``capitals`` their heights, ``codes`` the boxes of its symbols."""

    picture: np.ndarray
    mask: np.ndarray
    points: np.ndarray
    capitals: np.ndarray
    codes: list[tuple[int, int, int, int]]


def plate_of(sheet: Sheet, rng: Random) -> Plate:
    picture = _textured(np.asarray(sheet.image).copy(), sheet.palette.texture, rng)
    height, width = picture.shape[:2]
    mask = np.zeros((height, width), np.uint8)
    radius = max(1, round(sheet.corner * sheet.scale))
    cv2.rectangle(mask, (radius, 0), (width - radius, height), 255, -1)
    cv2.rectangle(mask, (0, radius), (width, height - radius), 255, -1)
    for x in (radius, width - radius):
        for y in (radius, height - radius):
            cv2.circle(mask, (x, y), radius, 255, -1)
    ends = [
        ((at * x0 + (1 - at) * x1, (y0 + y1) / 2), mark.capital)
        for mark in sheet.marks
        for x0, y0, x1, y1 in [mark.box]
        for at in np.linspace(0.02, 0.98, 9)
    ]
    points = np.array([point for point, _capital in ends], np.float32) * sheet.scale
    capitals = np.array([capital for _point, capital in ends]) * sheet.scale
    codes = [tuple(round(one * sheet.scale) for one in box) for box in sheet.code_boxes]
    return Plate(picture, mask, points, capitals, codes)


def noise(height: int, width: int, rng: Random, coarse: float = 1.0) -> np.ndarray:
    """Normal noise of deviation 1, ``coarse`` pixels to a grain, as float32."""
    made = np.random.default_rng(rng.getrandbits(64))
    small = (max(2, round(height / coarse)), max(2, round(width / coarse)))
    grain = made.standard_normal(small, np.float32)
    return cv2.resize(grain, (width, height), interpolation=cv2.INTER_LINEAR)


def _textured(picture: np.ndarray, texture: str, rng: Random) -> np.ndarray:
    height, width = picture.shape[:2]
    if texture == "steel":
        rows = noise(height, width, rng, 2)
        rows = cv2.blur(rows, (max(3, width // 6), 1)) * 40
        return _added(picture, rows)
    if texture == "foil":
        slope = np.linspace(-1, 1, width, dtype=np.float32) * rng.uniform(-18, 18)
        waves = 6 * np.sin(np.linspace(0, rng.uniform(4, 12), width, dtype=np.float32))
        return _added(picture, np.broadcast_to(slope + waves, (height, width)))
    if texture == "thermal":
        bands = noise(height, 4, rng, 1)[:, :1] * 5
        return _added(picture, np.broadcast_to(bands, (height, width)))
    return _added(picture, noise(height, width, rng, 3) * 2)


def _added(picture: np.ndarray, by: np.ndarray) -> np.ndarray:
    return np.clip(picture + by[..., None], 0, 255).astype(np.uint8)


# --- what years do ------------------------------------------------------------------------------
def dirt(plate: Plate, rng: Random, strength: float) -> None:
    """Brown grime in soft patches, thicker towards an edge."""
    height, width = plate.mask.shape
    cloud = noise(height, width, rng, width / rng.uniform(4, 9))
    fine = noise(height, width, rng, width / 90)
    cover = np.clip(cloud + 0.35 * fine - 0.5, 0, 1.2) * 0.5 * strength
    _blend(plate, (72, 60, 44), np.clip(cover, 0, 0.55))


def scratches(plate: Plate, rng: Random, strength: float) -> None:
    """Thin bright and dark lines."""
    height, width = plate.mask.shape
    for _ in range(rng.randint(2, 4 + round(14 * strength))):
        start = (rng.randrange(width), rng.randrange(height))
        angle, length = rng.uniform(0, 6.28), rng.uniform(0.05, 0.45) * width
        end = (int(start[0] + length * np.cos(angle)), int(start[1] + length * np.sin(angle)))
        tone = rng.choice(((225, 225, 225), (240, 240, 240), (70, 66, 62)))
        cv2.line(plate.picture, start, end, tone, rng.choice((1, 1, 2)), cv2.LINE_AA)


def gouge(plate: Plate, rng: Random, strength: float) -> None:
    """A key ran across each symbol: bars are missing that no check can bring back."""
    for x0, y0, x1, y1 in plate.codes:
        for _ in range(1 + round(2 * strength)):
            top, foot = (rng.randint(x0, x1) for _ in range(2))
            foot = top + (foot - top) // 4
            thick = max(2, (x1 - x0) // 60)
            cv2.line(plate.picture, (top, y0), (foot, y1), (206, 204, 200), thick, cv2.LINE_AA)


def dust(plate: Plate, rng: Random, strength: float) -> None:
    """Light specks and a grey veil."""
    height, width = plate.mask.shape
    specks = noise(height, width, rng, 1.6) > 3.1 - 0.5 * strength
    plate.picture[specks] = (200, 197, 190)
    _blend(plate, (168, 164, 156), np.full((height, width), 0.16 * strength, np.float32))


def worn(plate: Plate, rng: Random, strength: float) -> None:
    """Patches where the print is rubbed towards the colour of the plate; never quite away."""
    height, width = plate.mask.shape
    paper = tuple(int(one) for one in np.median(plate.picture[::16, ::16], axis=(0, 1)))
    rubbed = noise(height, width, rng, width / rng.uniform(5, 14))
    cover = np.clip(rubbed - 0.6, 0, 1) * (0.35 + 0.35 * strength)
    _blend(plate, paper, np.clip(cover, 0, 0.3 + 0.3 * strength))


def drops(plate: Plate, rng: Random, strength: float) -> None:
    """Water drops: each a small lens with a bright and a dark rim. For judging only."""
    height, width = plate.mask.shape
    for _ in range(rng.randint(4, 6 + round(16 * strength))):
        radius = int(width * rng.uniform(0.008, 0.026))
        x, y = rng.randrange(radius, width - radius), rng.randrange(radius, height - radius)
        piece = plate.picture[y - radius : y + radius, x - radius : x + radius]
        if piece.shape[0] != 2 * radius or piece.shape[1] != 2 * radius:
            continue
        grid = np.mgrid[-1 : 1 : 2 * radius * 1j, -1 : 1 : 2 * radius * 1j].astype(np.float32)
        away = np.sqrt(grid[0] ** 2 + grid[1] ** 2)
        pull = np.where(away < 1, 0.78 + 0.22 * away**2, 1).astype(np.float32)
        maps = [(grid[axis] * pull + 1) / 2 * (2 * radius - 1) for axis in (1, 0)]
        piece[:] = cv2.remap(piece, *maps, cv2.INTER_LINEAR)
        cv2.circle(plate.picture, (x, y), radius, (96, 98, 102), 1, cv2.LINE_AA)
        spark = (x - radius // 3, y - radius // 3), max(1, radius // 6)
        cv2.circle(plate.picture, *spark, (250, 250, 250), -1, cv2.LINE_AA)


def curved(plate: Plate, rng: Random, strength: float) -> None:
    """Bent round a tube and seen a little from above. For judging only."""
    height, width = plate.mask.shape
    turn = 0.35 + 0.4 * strength * rng.random()
    bow = rng.uniform(-0.14, 0.14) * height
    extra = int(abs(bow)) + 1
    x = np.linspace(-1, 1, width, dtype=np.float32)
    angle = np.arcsin(x * np.sin(turn))
    lift = bow * (np.cos(angle) - np.cos(turn)) / (1 - np.cos(turn)) - min(bow, 0)
    map_x = np.broadcast_to((angle / turn + 1) / 2 * (width - 1), (height + extra, width))
    map_y = np.arange(height + extra, dtype=np.float32)[:, None] - lift[None, :]
    maps = map_x.astype(np.float32), map_y.astype(np.float32)
    shade = 0.72 + 0.28 * np.cos(angle)
    seen = cv2.remap(plate.picture, *maps, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    plate.picture = (seen * shade[None, :, None]).astype(np.uint8)
    plate.mask = cv2.remap(plate.mask, *maps, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT)
    u = (plate.points[:, 0] / (width - 1) * 2 - 1) * turn
    plate.points[:, 0] = (np.sin(u) / np.sin(turn) + 1) / 2 * (width - 1)
    plate.points[:, 1] += bow * (np.cos(u) - np.cos(turn)) / (1 - np.cos(turn)) - min(bow, 0)
    plate.capitals *= np.minimum(1, np.cos(u) * turn / np.sin(turn))


def _blend(plate: Plate, colour, cover: np.ndarray) -> None:
    cover = cover[..., None]
    mixed = plate.picture * (1 - cover) + np.float32(colour) * cover
    plate.picture = mixed.astype(np.uint8)
