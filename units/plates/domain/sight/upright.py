"""A line of print set upright where a slanting view, or its typeface, has sheared it."""

import cv2
import numpy as np

SLANTS = np.linspace(-0.36, 0.36, 13)  # columns aside for each row down
SHARPER = 1.03  # so much sharper must the strokes stand for a line to be turned at all


def upright(cut: np.ndarray) -> np.ndarray:
    """``cut`` (BGR) with its upright strokes upright; what stands half way up stays in its place.

    The slant is the one at which the ink falls into the sharpest columns; source: common practice
    in reading handwriting.
    """
    grey = cv2.cvtColor(cut, cv2.COLOR_BGR2GRAY).astype(np.float32)
    sharpness = [_sharpness(_sheared(grey, slant)) for slant in SLANTS]
    best = int(np.argmax(sharpness))
    if sharpness[best] < SHARPER * sharpness[len(SLANTS) // 2]:
        return cut
    return _sheared(cut, SLANTS[best])


def _sheared(picture: np.ndarray, slant: float) -> np.ndarray:
    height, width = picture.shape[:2]
    way = np.array([[1, slant, -slant * (height - 1) / 2], [0, 1, 0]], np.float32)
    return cv2.warpAffine(picture, way, (width, height), borderMode=cv2.BORDER_REPLICATE)


def _sharpness(grey: np.ndarray) -> float:
    return float((np.diff(grey.mean(axis=0)) ** 2).sum())
