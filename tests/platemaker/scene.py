"""Where a plate hangs and from where the phone sees it."""

from dataclasses import dataclass
from random import Random

import cv2
import numpy as np
from PIL import Image, ImageDraw

from tests.platemaker.fonts import font
from tests.platemaker.surface import Plate, noise

# Width and height of phone photos in pixels, lying, by how often they come.
SIZES = {
    "easy": ((2016, 1512), (2592, 1944), (3264, 2448), (4032, 3024)),
    "normal": ((1600, 1200), (2016, 1512), (2560, 1440), (3264, 2448), (4032, 3024)),
    "hard": ((1600, 1200), (2016, 1512), (2592, 1944), (4032, 3024)),
}
GIANT, GIANT_SHARE = (5664, 4248), 0.02
# The share of the frame a plate fills, and how far it is turned away, in radians.
SHARES = {"easy": (0.30, 0.80), "normal": (0.20, 0.60), "hard": (0.167, 0.50)}
TILTS = {"easy": 0.12, "normal": 0.38, "hard": 0.62}
# The least height of a capital in the photo, in pixels, and of a barcode's module.
CAPITALS = {"easy": 34, "normal": 27, "hard": 20}


@dataclass
class Shot:
    """A photo while it is made: RGB, the identity print's middles and the least capital in it."""

    picture: np.ndarray
    points: np.ndarray
    capital: float
    rng: Random
    tier: str
    outline: np.ndarray


@dataclass(frozen=True)
class Pose:
    size: tuple[int, int]
    matrix: np.ndarray
    capital: float


def find_pose(plate: Plate, rng: Random, tier: str, turn: float | None = None) -> Pose:
    """From where the plate is seen, such that a person can read it; ``turn`` fixes its roll."""
    sizes = list(SIZES[tier])
    size = GIANT if rng.random() < GIANT_SHARE else rng.choice(sizes)
    if rng.random() < 0.6:
        size = size[::-1]
    best = None
    for attempt in range(14):
        ease = 1 - attempt / 20
        matrix = _matrix(plate, size, rng, tier, ease, turn)
        capital = _least_capital(plate, matrix)
        if best is None or capital > best.capital:
            best = Pose(size, matrix, capital)
        if capital >= CAPITALS[tier]:
            return Pose(size, matrix, capital)
        if attempt % 3 == 2 and max(size) < 4000:
            size = tuple(round(one * 1.3) for one in size)
    return best


def _turn(rng: Random, tier: str) -> float:
    """How far the plate is turned in the picture, in radians."""
    if tier == "easy":
        return rng.gauss(0, 0.05) + (
            np.pi / 2 * rng.choice((-1, 1, 2)) if rng.random() < 0.1 else 0
        )
    if rng.random() < (0.08 if tier == "normal" else 0.15):
        return rng.uniform(-np.pi, np.pi)
    return rng.gauss(0, 0.12) + np.pi / 2 * rng.choice((0, 0, 0, 0, 1, -1, 2))


def _matrix(plate: Plate, size, rng: Random, tier: str, ease: float, turn) -> np.ndarray:
    height, width = plate.mask.shape
    tilt = TILTS[tier] * ease
    pitch, yaw = rng.uniform(-tilt, tilt), rng.uniform(-tilt, tilt)
    roll = _turn(rng, tier) if turn is None else turn
    corners = np.float32([(0, 0), (width, 0), (width, height), (0, height)])
    flat = corners - np.float32([width / 2, height / 2])
    across, down = flat[:, 0] * np.cos(yaw), flat[:, 1] * np.cos(pitch)
    far = flat[:, 0] * np.sin(yaw) + flat[:, 1] * np.sin(pitch)
    nearness = 2.2 * width / (2.2 * width + far)
    seen = np.stack([across * nearness, down * nearness], 1)
    rotation = np.float32([[np.cos(roll), -np.sin(roll)], [np.sin(roll), np.cos(roll)]])
    seen = seen @ rotation.T
    spread = seen.max(0) - seen.min(0)
    area = cv2.contourArea(seen.astype(np.float32))
    low, high = SHARES[tier]
    share = rng.uniform(low + (high - low) * (1 - ease), high)
    scale = np.sqrt(share * size[0] * size[1] / area)
    scale = min(scale, 0.97 * size[0] / spread[0], 0.97 * size[1] / spread[1])
    seen, spread = seen * scale, spread * scale
    room = np.array(size) - spread
    corner = room * [rng.triangular(0.02, 0.98, 0.5), rng.triangular(0.02, 0.98, 0.5)]
    return cv2.getPerspectiveTransform(corners, (seen - seen.min(0) + corner).astype(np.float32))


def _least_capital(plate: Plate, matrix: np.ndarray) -> float:
    """The height in the photo of the smallest capital of the identity print."""
    points, step = plate.points.reshape(-1, 1, 2), 1.0
    here = cv2.perspectiveTransform(points, matrix)[:, 0]
    right = cv2.perspectiveTransform(points + np.float32([step, 0]), matrix)[:, 0] - here
    below = cv2.perspectiveTransform(points + np.float32([0, step]), matrix)[:, 0] - here
    pairs = zip(right, below, strict=True)
    scales = [np.linalg.svd(np.stack(pair, 1), compute_uv=False)[-1] for pair in pairs]
    return float(np.min(plate.capitals * scales))


def shoot(plate: Plate, pose: Pose, rng: Random, tier: str) -> Shot:
    """Put the plate into a scene."""
    picture = background(pose.size, rng, tier)
    outline = lay(picture, plate.picture, plate.mask, pose.matrix)
    points = cv2.perspectiveTransform(plate.points.reshape(-1, 1, 2), pose.matrix)[:, 0]
    if tier != "easy" and rng.random() < 0.5:
        _sticker(picture, outline, rng)
    return Shot(picture, points, pose.capital, rng, tier, outline)


def lay(picture: np.ndarray, piece: np.ndarray, mask: np.ndarray, matrix: np.ndarray) -> np.ndarray:
    """Warp a piece into the picture where the matrix says, with a soft shadow; its corners."""
    height, width = mask.shape
    corners = np.float32([[(0, 0), (width, 0), (width, height), (0, height)]])
    outline = cv2.perspectiveTransform(corners, matrix)[0]
    low = np.maximum(np.floor(outline.min(0)).astype(int) - 24, 0)
    high = np.minimum(np.ceil(outline.max(0)).astype(int) + 24, picture.shape[1::-1])
    shift = np.float32([[1, 0, -low[0]], [0, 1, -low[1]], [0, 0, 1]]) @ matrix
    size = tuple(int(one) for one in high - low)
    shrinks = np.linalg.norm(outline[1] - outline[0]) < 0.7 * width
    sharp = cv2.INTER_AREA if shrinks else cv2.INTER_CUBIC
    if shrinks:
        ratio = float(np.linalg.norm(outline[1] - outline[0])) / width
        piece = cv2.GaussianBlur(piece, None, max(0.3, 0.35 / max(ratio, 0.1)))
        sharp = cv2.INTER_LINEAR
    seen = cv2.warpPerspective(piece, shift, size, flags=sharp, borderMode=cv2.BORDER_REPLICATE)
    cover = cv2.warpPerspective(mask, shift, size, flags=cv2.INTER_LINEAR)
    under = picture[low[1] : high[1], low[0] : high[0]]
    small = cv2.resize(cover, None, fx=0.25, fy=0.25, interpolation=cv2.INTER_AREA)
    shadow = cv2.resize(cv2.GaussianBlur(small, None, 3), size)
    dim = cv2.multiply(under, cv2.merge([255 - shadow // 2] * 3), scale=1 / 255)
    share = cv2.merge([cover] * 3)
    above = cv2.multiply(seen, share, scale=1 / 255)
    under[:] = cv2.add(above, cv2.multiply(dim, 255 - share, scale=1 / 255))
    return outline


# --- behind the plate ---------------------------------------------------------------------------
PAINTS = ((40, 42, 46), (70, 72, 76), (150, 152, 155), (28, 34, 60), (96, 28, 30), (196, 198, 196))
FLOORS = ((52, 50, 48), (110, 96, 78), (126, 124, 120), (84, 88, 84))


def background(size: tuple[int, int], rng: Random, tier: str) -> np.ndarray:
    """A shroud, a frame tube over a floor, or rubber flooring; with screws now and then."""
    width, height = size
    small = (max(64, width // 4), max(64, height // 4))
    kind = rng.choice(("shroud", "tube", "floor"))
    ground = rng.choice(FLOORS if kind != "shroud" else PAINTS)
    picture = np.full((small[1], small[0], 3), ground, np.float32)
    picture += noise(small[1], small[0], rng, small[0] / 5)[..., None] * 7
    picture += noise(small[1], small[0], rng, 1.5)[..., None] * rng.uniform(1, 9)
    if kind == "tube":
        _tube(picture, rng)
    if kind == "floor":
        flecks = noise(small[1], small[0], rng, 2) > 2.2
        picture[flecks] += rng.uniform(20, 70)
    if tier != "easy":
        _screws(picture, rng)
    picture = np.clip(picture, 0, 255).astype(np.uint8)
    return cv2.resize(picture, size, interpolation=cv2.INTER_CUBIC)


def _tube(picture: np.ndarray, rng: Random) -> None:
    height, width = picture.shape[:2]
    across = np.linspace(-1, 1, height, dtype=np.float32) - rng.uniform(-0.2, 0.2)
    half = rng.uniform(0.5, 0.85)
    inside = np.abs(across) < half
    shine = np.sqrt(np.clip(1 - (across / half) ** 2, 0, 1))
    paint = np.float32(rng.choice(PAINTS))
    picture[inside] = (paint * (0.45 + 0.6 * shine[inside, None]))[:, None, :]
    picture += noise(height, width, rng, 1.5)[..., None] * 3


def _screws(picture: np.ndarray, rng: Random) -> None:
    height, width = picture.shape[:2]
    for _ in range(rng.randint(0, 4)):
        at, radius = (rng.randrange(width), rng.randrange(height)), rng.randint(6, 14)
        cv2.circle(picture, at, radius, (60, 60, 62), -1, cv2.LINE_AA)
        cv2.circle(picture, at, radius - 2, (150, 150, 152), -1, cv2.LINE_AA)
        cv2.line(picture, (at[0] - radius + 3, at[1]), (at[0] + radius - 3, at[1]), (50, 50, 52), 2)


def _sticker(picture: np.ndarray, outline: np.ndarray, rng: Random) -> None:
    """A warning sticker beside the plate, where there is room for one."""
    height, width = picture.shape[:2]
    low, high = outline.min(0), outline.max(0)
    gaps = {"above": low[1], "below": height - high[1]}
    side = max(gaps, key=gaps.get)
    tall = int(gaps[side] * 0.7)
    if tall < 90:
        return
    wide = int(min(tall * 2.6, width * 0.6))
    image = Image.new("RGB", (wide, tall), rng.choice(((240, 196, 40), (236, 236, 232))))
    pen = ImageDraw.Draw(image)
    for at, line in enumerate(rng.choice(STICKERS)):
        size = min(tall // (4 if at == 0 else 8), wide // (8 if at == 0 else 11))
        y = round(tall * (0.32 if at == 0 else 0.36 + 0.19 * at))
        face = font("arimo", size, at == 0)
        pen.text((wide * 0.06, y), line, font=face, fill=(20, 20, 20), anchor="ls")
    x = rng.uniform(0.05, 0.95) * (width - wide)
    y = (low[1] - tall) * 0.5 if side == "above" else high[1] + (gaps[side] - tall) * 0.5
    matrix = np.float32([[1, 0.03, x], [-0.02, 1, max(2, y)], [0, 0, 1]])
    lay(picture, np.asarray(image), np.full((tall, wide), 255, np.uint8), matrix)


STICKERS = (
    ("WARNING", "Keep children away", "Stop before leaving", "Use the safety key"),
    ("CAUTION", "Moving belt", "Hold the rail", "Ask staff for help"),
    ("OUT OF ORDER", "Please use another", "machine. Thank you"),
)
