"""What light and the phone do to a photo. Each takes a ``Shot`` and a strength from 0 to 1."""

import cv2
import numpy as np

from tests.platemaker.scene import Shot
from tests.platemaker.surface import noise

# The most a person's reading bears, as shares of a capital's height.
MOST_DEFOCUS = 0.105
MOST_MOTION = 0.30


# --- light --------------------------------------------------------------------------------------
def uneven_light(shot: Shot, strength: float) -> None:
    """Brighter on one side."""
    angle = shot.rng.uniform(0, 6.28)
    x, y = np.linspace(-1, 1, 64), np.linspace(-1, 1, 48)
    slope = np.cos(angle) * x[None, :] + np.sin(angle) * y[:, None]
    _shade(shot, 1 + slope * 0.32 * strength)


def dim(shot: Shot, strength: float) -> None:
    """Too little light: darker and flatter, with the warm or cold tint of a lamp."""
    low = 1 - 0.5 * strength * shot.rng.uniform(0.6, 1)
    tint = 1 + np.float32(shot.rng.choice(((0.06, 0, -0.1), (-0.05, 0.01, 0.05), (0, 0.03, -0.02))))
    tables = [np.clip(np.arange(256) * low * one + 10 * strength, 0, 255) for one in tint]
    table = np.stack(tables, 1).astype(np.uint8)[None]
    shot.picture = cv2.LUT(shot.picture, table)


def shade_edge(shot: Shot, strength: float) -> None:
    """The edge of a shadow across the plate."""
    angle, at = shot.rng.uniform(0, 6.28), shot.rng.uniform(-0.4, 0.4)
    x, y = np.linspace(-1, 1, 96), np.linspace(-1, 1, 72)
    side = np.cos(angle) * x[None, :] + np.sin(angle) * y[:, None] - at
    soft = shot.rng.uniform(4, 40)
    _shade(shot, 1 - (0.25 + 0.4 * strength) / (1 + np.exp(-side * soft)))


def glare(shot: Shot, strength: float) -> None:
    """A lamp mirrored in the plate; its blinding middle never lies on the identity print."""
    height, width = shot.picture.shape[:2]
    rng, outline = shot.rng, shot.outline
    span = float(np.linalg.norm(outline[1] - outline[0]))
    yy, xx = np.mgrid[0:72, 0:96].astype(np.float32)
    for ease in np.linspace(1, 0.2, 8):
        shares = np.array([rng.random() for _ in range(4)])
        x, y = (shares / shares.sum()) @ outline
        rx, ry = (span * rng.uniform(0.06, 0.28) * ease for _ in range(2))
        peak = 255 * (0.5 + 0.7 * strength)
        away = ((shot.points[:, 0] - x) / rx) ** 2 + ((shot.points[:, 1] - y) / ry) ** 2
        if peak * np.exp(-away.min()) < 30 + 80 * strength:
            break
    spot = ((xx * width / 96 - x) / rx) ** 2 + ((yy * height / 72 - y) / ry) ** 2
    light = np.clip(peak * np.exp(-spot), 0, 255).astype(np.uint8)
    whole = cv2.resize(light, (width, height), interpolation=cv2.INTER_CUBIC)
    shot.picture = cv2.add(shot.picture, cv2.merge([whole] * 3))


def hand_shadow(shot: Shot, strength: float) -> None:
    """The shadow of the hand and the phone. For judging only."""
    rng = shot.rng
    light = np.ones((72, 96), np.float32)
    at, tall = (rng.randint(10, 86), rng.randint(20, 60)), rng.randint(18, 40)
    dark = 1 - (0.25 + 0.35 * strength)
    cv2.rectangle(light, (at[0] - 14, at[1] - tall), (at[0] + 14, at[1] + tall), dark, -1)
    cv2.ellipse(light, (at[0], 72), (26, 40), 0, 0, 360, dark, -1)
    turn = cv2.getRotationMatrix2D((48, 36), rng.uniform(-60, 60), 1.0)
    light = cv2.warpAffine(light, turn, (96, 72), borderValue=1.0)
    _shade(shot, cv2.GaussianBlur(light, None, rng.uniform(0.8, 4)))


def _shade(shot: Shot, light: np.ndarray) -> None:
    """Multiply by a small map of light, 1 for as it is."""
    size = shot.picture.shape[1::-1]
    small = np.clip(light * 128, 0, 255).astype(np.uint8)
    whole = cv2.resize(small, size, interpolation=cv2.INTER_CUBIC)
    shot.picture = cv2.multiply(shot.picture, cv2.merge([whole] * 3), scale=1 / 128)


# --- optics -------------------------------------------------------------------------------------
def defocus(shot: Shot, strength: float) -> None:
    sigma = MOST_DEFOCUS * strength * shot.rng.uniform(0.5, 1) * shot.capital
    if sigma > 0.4:
        shot.picture = cv2.GaussianBlur(shot.picture, None, sigma)


def motion(shot: Shot, strength: float) -> None:
    """The hand moved along a line."""
    length = MOST_MOTION * strength * shot.rng.uniform(0.4, 1) * shot.capital
    side = int(length) | 1
    if side < 3:
        return
    kernel = np.zeros((side, side), np.float32)
    angle, half = shot.rng.uniform(0, np.pi), side // 2
    dx, dy = half * np.cos(angle), half * np.sin(angle)
    ends = [(round(half - dx), round(half - dy)), (round(half + dx), round(half + dy))]
    cv2.line(kernel, *ends, 1.0, 1, cv2.LINE_AA)
    shot.picture = cv2.filter2D(shot.picture, -1, kernel / kernel.sum())


def lens(shot: Shot, strength: float) -> None:
    """A wide lens near the plate bows straight lines outward. For judging only."""
    height, width = shot.picture.shape[:2]
    bend = (0.03 + 0.07 * strength) * shot.rng.uniform(0.5, 1)
    x = np.linspace(-1, 1, width, dtype=np.float32)[None, :]
    y = np.linspace(-1, 1, height, dtype=np.float32)[:, None]
    # The middle grows and the middles of the edges stay: nothing is cut off but empty corners.
    map_x = (x * (1 + bend * x * x) + bend * y * y * x) / (1 + bend)
    map_y = (y * (1 + bend * y * y) + bend * x * x * y) / (1 + bend)
    maps = (map_x + 1) * ((width - 1) / 2), (map_y + 1) * ((height - 1) / 2)
    shot.picture = cv2.remap(shot.picture, *maps, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)


# --- sensor and software ------------------------------------------------------------------------
def grain(shot: Shot, strength: float) -> None:
    """Noise of a small sensor in low light."""
    _noisy(shot, 3 + 13 * strength * shot.rng.uniform(0.5, 1), coarse=1.3, colours=1)


def colour_grain(shot: Shot, strength: float) -> None:
    """Coloured blotches, as left by noise reduction."""
    _noisy(shot, 3 + 9 * strength, coarse=5, colours=3)


def _noisy(shot: Shot, deviation: float, coarse: float, colours: int) -> None:
    height, width = shot.picture.shape[:2]
    planes = [noise(512, 512, shot.rng, coarse) * deviation for _ in range(colours)]
    tile = np.stack(planes if colours == 3 else planes * 3, 2)
    times = (-(-height // 512), -(-width // 512), 1)
    for sign, put in ((1, cv2.add), (-1, cv2.subtract)):
        part = np.clip(tile * sign, 0, 255).astype(np.uint8)
        shot.picture = put(shot.picture, np.tile(part, times)[:height, :width])


def oversharp(shot: Shot, strength: float) -> None:
    """The phone's sharpening draws bright rims. For judging only."""
    soft = cv2.GaussianBlur(shot.picture, None, 2.0)
    more = 0.8 + 1.6 * strength
    shot.picture = cv2.addWeighted(shot.picture, 1 + more, soft, -more, 0)


def moire(shot: Shot, strength: float) -> None:
    """Bands of a lamp or of a screen's grid. For judging only."""
    height, width = shot.picture.shape[:2]
    period = shot.rng.uniform(9, 60)
    rows = np.arange(height, dtype=np.float32)[:, None] + np.arange(width, dtype=np.float32) * (
        shot.rng.uniform(-0.2, 0.2)
    )
    bands = (128 + 22 * strength * np.sin(rows * (2 * np.pi / period))).astype(np.uint8)
    shot.picture = cv2.multiply(shot.picture, cv2.merge([bands] * 3), scale=1 / 128)
