"""A plate while it is drawn. Lengths are thousandths of its width, text stands on its baseline."""

from dataclasses import dataclass, field
from random import Random

import numpy as np
from PIL import Image, ImageDraw

from tests.platemaker.codes import SQUARE, modules
from tests.platemaker.dots import dots_of
from tests.platemaker.fonts import font, is_han

CAPITAL = 0.70  # height of a capital as a share of the type size, near enough for every typeface
Colour = tuple[int, int, int]


@dataclass(frozen=True)
class Palette:
    paper: Colour
    ink: Colour
    texture: str = "paper"
    second: Colour = (110, 110, 110)


@dataclass(frozen=True)
class Mark:
    """Print that says which machine it is: its box and the height of its capitals."""

    box: tuple[float, float, float, float]
    capital: float


@dataclass
class Sheet:
    """``scale`` is pixels a unit. ``shown`` gathers the fields printed, ``codes`` the symbols
    and ``code_boxes`` where they stand."""

    width: int
    height: int
    scale: float
    palette: Palette
    faces: dict[str, str]
    rng: Random
    corner: int = 14
    marks: list[Mark] = field(default_factory=list)
    codes: list[tuple[str, str]] = field(default_factory=list)
    code_boxes: list[tuple[float, float, float, float]] = field(default_factory=list)
    shown: set[str] = field(default_factory=set)

    def __post_init__(self):
        self.image = Image.new("RGB", self._size(self.width, self.height), self.palette.paper)
        self.pen = ImageDraw.Draw(self.image)

    def _size(self, *lengths: float) -> tuple[int, ...]:
        return tuple(round(one * self.scale) for one in lengths)

    def face(self, text: str, face: str, size: float, bold: bool = False):
        name = "han" if is_han(text) else self.faces[face]
        return font(name, round(size * self.scale), bold)

    def width_of(self, text: str, face: str, size: float, bold: bool = False) -> float:
        if face == "dots":
            return len(text) * 6 * size * CAPITAL / 7
        return self.face(text, face, size, bold).getlength(text) / self.scale

    def fitting(self, text: str, face: str, size: float, within: float, bold=False) -> float:
        """The size, made smaller where the text would be wider than ``within``."""
        return min(size, size * within / max(1.0, self.width_of(text, face, size, bold)))

    def text(
        self, x, y, text, face="label", size=28, *, bold=False, anchor="ls", ink=None, within=None
    ) -> float:
        """Print a text from its baseline; its width."""
        if within:
            size = self.fitting(text, face, size, within, bold)
        ink = ink or self.palette.ink
        if face == "dots":
            return self._dots(x, y, text, size, ink)
        set_in = self.face(text, face, size, bold)
        self.pen.text(self._size(x, y), text, font=set_in, fill=ink, anchor=anchor)
        return self.width_of(text, face, size, bold)

    def value(
        self, key: str, x, y, text, face="value", size=36, *, anchor="ls", within=None, **options
    ):
        """Print a field's value and remember that the plate shows it."""
        if within:
            size = self.fitting(text, face, size, within, options.get("bold", False))
        width = self.text(x, y, text, face, size, anchor=anchor, **options)
        self.shows(key, x, y, width, size, anchor)
        return width

    def shows(self, key: str, x, y, width, size, anchor="ls") -> None:
        self.shown |= {"volts", "hertz", "amps"} if key == "supply" else {key}
        if key in ("maker", "model", "serial"):
            left = x - {"l": 0, "m": width / 2, "r": width}[anchor[0]]
            capital = size * CAPITAL
            self.marks.append(Mark((left, y - capital, left + width, y), capital))

    def stamped(self, key: str, x, y, text, size=38, *, within=None, wander=1.5) -> float:
        """Strike a value into the metal, each character by hand: pressed edges, uneven line."""
        if within:
            size = self.fitting(text, "value", size, within * 0.92)
        set_in = self.face(text, "value", size)
        start, light, dark = x, self._tone(70), self._tone(-120)
        for one in text:
            dy = self.rng.uniform(-wander, wander)
            for shift, tone in ((1.6, light), (-0.4, dark), (0.4, dark)):
                at = self._size(x + shift, y + dy + shift)
                self.pen.text(at, one, font=set_in, fill=tone, anchor="ls")
            x += set_in.getlength(one) / self.scale + self.rng.uniform(0.5, 3)
        self.shows(key, start, y, x - start, size)
        return x - start

    def _tone(self, by: int) -> Colour:
        return tuple(max(0, min(255, one + by)) for one in self.palette.paper)

    def _dots(self, x, y, text, size, ink) -> float:
        pitch = size * CAPITAL / 7
        top, radius = y - size * CAPITAL, pitch * self.rng.uniform(0.42, 0.56)
        rows, columns = np.nonzero(dots_of(text))
        for row, column in zip(rows, columns, strict=True):
            cx, cy = x + (column + 0.5) * pitch, top + (row + 0.5) * pitch
            self.pen.ellipse(
                self._size(cx - radius, cy - radius, cx + radius, cy + radius), fill=ink
            )
        return len(text) * 6 * pitch

    def line(self, x0, y0, x1, y1, thick=2.0, ink=None) -> None:
        width = max(1, round(thick * self.scale))
        self.pen.line(self._size(x0, y0, x1, y1), fill=ink or self.palette.ink, width=width)

    def box(self, x0, y0, x1, y1, thick=2.0, *, fill=None, radius=0, ink=None) -> None:
        width = max(1, round(thick * self.scale))
        self.pen.rounded_rectangle(
            self._size(x0, y0, x1, y1),
            radius * self.scale,
            fill,
            (ink or self.palette.ink) if thick else None,
            width,
        )

    def code(self, sort: str, text: str, x, y, width, height) -> tuple[float, float]:
        """Draw a symbol into a box, modules a whole number of pixels wide; its size in units."""
        bits = modules(sort, text)
        step = max(1, int(width * self.scale / bits.shape[1]))
        if sort in SQUARE:
            step = max(1, int(min(width, height) * self.scale / bits.shape[0]))
            drawn = np.kron(bits, np.ones((step, step), bool))
        else:
            drawn = np.repeat(np.repeat(bits, step, 1), round(height * self.scale), 0)
        dark = (20, 20, 22)
        light = self.palette.paper if sum(self.palette.paper) > 450 else (235, 235, 230)
        picture = np.where(drawn[..., None], np.uint8(dark), np.uint8(light))
        self.image.paste(Image.fromarray(picture), self._size(x, y))
        wide, tall = drawn.shape[1] / self.scale, drawn.shape[0] / self.scale
        self.codes.append((sort, text))
        self.code_boxes.append((x, y, x + wide, y + tall))
        return wide, tall

    def sideways(self, x, y, text, face="label", size=28, **options) -> float:
        """Print upwards along the side from (x, y); its length."""
        length = self.width_of(text, face, size)
        strip = Image.new("RGB", self._size(length + 4, size * 1.3), self.palette.paper)
        set_in = self.face(text, face, size)
        ink = options.get("ink") or self.palette.ink
        ImageDraw.Draw(strip).text(self._size(2, size), text, font=set_in, fill=ink, anchor="ls")
        turned = strip.rotate(90, expand=True)
        self.image.paste(turned, self._size(x, y - length - 4))
        return length
