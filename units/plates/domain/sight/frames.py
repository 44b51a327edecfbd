"""A picture that was turned, cut or scaled from a photo, and the way back to the photo."""

from dataclasses import dataclass

import cv2
import numpy as np

from units.plates.domain.proposal import Box


@dataclass(frozen=True)
class Frame:
    """``picture`` (BGR) and the 3 by 3 matrix that leads from the photo's pixels to its own."""

    picture: np.ndarray
    way: np.ndarray
    photo_size: tuple[int, int]  # width, height

    @classmethod
    def whole(cls, photo: np.ndarray) -> "Frame":
        return cls(photo, np.eye(3), (photo.shape[1], photo.shape[0]))

    def moved(self, step: np.ndarray, size: tuple[int, int]) -> "Frame":
        """Drawn anew with one more step (3 by 3) into a picture of ``size`` (width, height)."""
        picture = cv2.warpPerspective(
            self.picture, step, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
        )
        return Frame(picture, step @ self.way, self.photo_size)

    def turned(self, degrees: float) -> "Frame":
        """Turned so that lines that rose by ``degrees`` (clockwise, as y grows down) lie level."""
        height, width = self.picture.shape[:2]
        turn = cv2.getRotationMatrix2D((width / 2, height / 2), degrees, 1.0)
        cos, sin = abs(turn[0, 0]), abs(turn[0, 1])
        wide, high = round(width * cos + height * sin), round(width * sin + height * cos)
        turn[:, 2] += (wide - width) / 2, (high - height) / 2
        return self.moved(np.vstack([turn, [0, 0, 1]]), (wide, high))

    def upside_down(self) -> "Frame":
        height, width = self.picture.shape[:2]
        step = np.array([[-1, 0, width - 1], [0, -1, height - 1], [0, 0, 1]], float)
        picture = cv2.rotate(self.picture, cv2.ROTATE_180)
        return Frame(picture, step @ self.way, self.photo_size)

    def part(self, left: float, top: float, right: float, bottom: float, scale: float) -> "Frame":
        """The part between two corners, drawn ``scale`` times as large."""
        step = np.array([[scale, 0, -left * scale], [0, scale, -top * scale], [0, 0, 1]])
        size = (max(1, round((right - left) * scale)), max(1, round((bottom - top) * scale)))
        height, width = self.picture.shape[:2]
        if scale < 1 and 0 <= left < right <= width and 0 <= top < bottom <= height:
            cut = self.picture[round(top) : round(bottom), round(left) : round(right)]
            picture = cv2.resize(cut, size, interpolation=cv2.INTER_AREA)
            return Frame(picture, step @ self.way, self.photo_size)
        return self.moved(step, size)

    def from_photo(self, quads: np.ndarray) -> np.ndarray:
        """Quadrangles (n, 4, 2) in the photo's pixels, as they stand in this picture."""
        return _through(self.way, quads)

    def to_photo(self, quads: np.ndarray) -> np.ndarray:
        """Quadrangles (n, 4, 2) of this picture in the photo's pixels."""
        return _through(np.linalg.inv(self.way), quads)

    def from_box(self, boxes: list[Box]) -> np.ndarray:
        """Boxes in fractions of the photo as level quadrangles (n, 4, 2) of this picture."""
        if not boxes:
            return np.zeros((0, 4, 2))
        quads = self.from_photo(np.array(boxes, float) * self.photo_size)
        return np.array([level(quad) for quad in quads])

    def to_box(self, quad: np.ndarray) -> Box:
        """A quadrangle of this picture as fractions of the photo's width and height."""
        points = _through(np.linalg.inv(self.way), quad[None])[0] / self.photo_size
        return tuple((float(x), float(y)) for x, y in np.clip(points, 0, 1).round(5))


def _through(way: np.ndarray, quads: np.ndarray) -> np.ndarray:
    if not len(quads):
        return quads
    return cv2.perspectiveTransform(quads.reshape(1, -1, 2).astype(float), way).reshape(-1, 4, 2)


def lengths(quads: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The longer and the shorter side of each quadrangle."""
    one = np.linalg.norm(quads[:, 1] - quads[:, 0], axis=1)
    two = np.linalg.norm(quads[:, 2] - quads[:, 1], axis=1)
    return np.maximum(one, two), np.minimum(one, two)


def slopes(quads: np.ndarray) -> np.ndarray:
    """Direction of each quadrangle's longer side in degrees, from -90 up to 90."""
    one, two = quads[:, 1] - quads[:, 0], quads[:, 2] - quads[:, 1]
    first = np.linalg.norm(one, axis=1) >= np.linalg.norm(two, axis=1)
    side = np.where(first[:, None], one, two)
    return (np.degrees(np.arctan2(side[:, 1], side[:, 0])) + 90) % 180 - 90


def common_slope(quads: np.ndarray) -> float:
    """The direction in which most print runs: long lines weigh more. 0 when nothing is long."""
    longer, shorter = lengths(quads)
    long = longer > 2 * shorter
    if not long.any():
        return 0.0
    angles, weights = slopes(quads)[long], longer[long]
    apart = np.abs((angles[:, None] - angles[None] + 90) % 180 - 90)
    near = apart <= 8
    best = int((near * weights).sum(axis=1).argmax())
    chosen = near[best]
    steps = (angles[chosen] - angles[best] + 90) % 180 - 90
    mean = float((steps * weights[chosen]).sum() / weights[chosen].sum())
    return float((angles[best] + mean + 90) % 180 - 90)


def level(quad: np.ndarray) -> np.ndarray:
    """The corners of a nearly level quadrangle, clockwise from the upper left."""
    by_x = quad[np.argsort(quad[:, 0], kind="stable")]
    left, right = by_x[:2], by_x[2:]
    left, right = left[np.argsort(left[:, 1])], right[np.argsort(right[:, 1])]
    return np.array([left[0], right[0], right[1], left[1]])


def cut_out(picture: np.ndarray, quad: np.ndarray, margin: float = 0.06) -> np.ndarray:
    """The straightened picture of one level line, with a little air above and below."""
    top_left, top_right, low_right, low_left = quad
    down = (low_left - top_left + low_right - top_right) / 2 * margin
    corners = np.array([top_left - down, top_right - down, low_right + down, low_left + down])
    wide = max(np.linalg.norm(top_right - top_left), np.linalg.norm(low_right - low_left))
    high = max(np.linalg.norm(low_left - top_left), np.linalg.norm(low_right - top_right))
    high *= 1 + 2 * margin
    # No larger than a reader needs, which also keeps far too large print from growing costly.
    shrink = min(1.0, 96 / max(high, 1))
    size = (max(8, round(wide * shrink)), max(8, round(high * shrink)))
    goal = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]], np.float32)
    step = cv2.getPerspectiveTransform(corners.astype(np.float32), goal)
    return cv2.warpPerspective(
        picture, step, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
