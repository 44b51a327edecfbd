"""What a layout is given, and how it is registered."""

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from tests.platemaker.codes import trade_number
from tests.platemaker.facts import Facts
from tests.platemaker.fonts import MONO, SANS, SHOW
from tests.platemaker.sheet import Palette, Sheet
from tests.platemaker.wording import Entry, Wording, decoy_number

WHITE = Palette((238, 238, 233), (24, 24, 28))
CREAM = Palette((229, 223, 203), (40, 36, 32))
SILVER = Palette((196, 198, 199), (26, 28, 32), "foil")
STEEL = Palette((168, 171, 174), (34, 36, 40), "steel")
BLACK = Palette((26, 27, 30), (226, 226, 222), "plastic", (160, 160, 160))
BLUE = Palette((218, 226, 234), (22, 44, 92), "plastic")
GREY = Palette((205, 207, 204), (30, 30, 34), "plastic")


@dataclass(frozen=True)
class Brief:
    """Everything a layout needs to draw one plate."""

    facts: Facts
    wording: Wording
    rng: Random
    scale: float
    families: str

    def sheet(self, height: int, *palettes: Palette, mono: float = 0.4, corner: int = 14) -> Sheet:
        """An empty plate in one of the palettes; ``mono``: how often values are fixed-width."""
        rng, sans = self.rng, SANS[self.families]
        faces = {
            "label": rng.choice(sans),
            "value": rng.choice(MONO[self.families] if rng.random() < mono else sans),
            "logo": rng.choice((*SHOW[self.families], *sans)),
        }
        return Sheet(1000, height, self.scale, rng.choice(palettes), faces, rng, corner)

    def some(self, *keys: str, leave: float = 0.25) -> list[Entry]:
        """The entries of these fields; any but model and serial may be left out."""
        return [
            entry
            for entry in self.wording.of(*keys)
            if entry.key in ("maker", "model", "serial") or self.rng.random() >= leave
        ]

    def joint(self) -> str:
        """What stands between a label and its value on one line."""
        return self.rng.choice((": ", ":", "  ", " ", " : "))

    def unrelated(self) -> tuple[str, str]:
        """A symbol that names neither model nor serial: a trade number or a lot."""
        if self.rng.random() < 0.5:
            return "EAN-13", trade_number(decoy_number("20##########", self.rng))
        return "Code 128", decoy_number("LOT####", self.rng)


@dataclass(frozen=True)
class Family:
    """``languages`` are the sets of languages that its plates are labelled in."""

    name: str
    draw: Callable[[Brief], Sheet]
    languages: tuple[tuple[str, ...], ...]


def in_languages(*languages: str) -> Callable:
    """Make a layout function a family. Each argument is one set: ``"en"`` or ``"en es"``."""

    def made(draw: Callable[[Brief], Sheet]) -> Family:
        return Family(draw.__name__, draw, tuple(tuple(one.split()) for one in languages))

    return made


def linear_code(sheet: Sheet, sort: str, text: str, x, y, width, height, say=False) -> float:
    """A barcode with its text beneath if asked; the y where the next thing may stand."""
    drawn_width, drawn_height = sheet.code(sort, text, x, y, width, height)
    if say:
        shown = f"*{text}*" if sort == "Code 39" else text
        size = sheet.fitting(shown, "value", 24, drawn_width)
        sheet.text(x + drawn_width / 2, y + drawn_height + size, shown, "value", size, anchor="ms")
        return y + drawn_height + size * 1.4
    return y + drawn_height + 10
