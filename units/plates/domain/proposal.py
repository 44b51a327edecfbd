"""What a reader of serial plates proposes: the shapes that reader, screens and database share."""

from dataclasses import asdict, dataclass, field
from enum import StrEnum

Point = tuple[float, float]
# Four corners from the text's upper left, clockwise, as fractions of the upright photo's width
# and height, so that a box fits every copy of the photo.
Box = tuple[Point, Point, Point, Point]


class Outcome(StrEnum):
    """What the person at the screen has to do: tap once, choose, or type."""

    SURE = "sure"
    LOOK = "look"
    TYPE = "type"


class FieldName(StrEnum):
    MAKER = "maker"
    MODEL = "model"
    SERIAL = "serial"
    VOLTS = "volts"
    HERTZ = "hertz"
    AMPS = "amps"
    MADE = "made"


# The fields that say which machine it is; the outcome of a photo is that of the worst of them.
IDENTITY = (FieldName.MAKER, FieldName.MODEL, FieldName.SERIAL)


@dataclass(frozen=True)
class Candidate:
    """One thing that a field may say, and how likely that is (0 to 1)."""

    text: str
    probability: float


@dataclass(frozen=True)
class ReadField:
    """What one field is proposed to say: ``""`` when nothing was found.

    ``candidates`` holds the likely readings, the proposed one first. ``box`` is None when the
    value came from elsewhere (a maker inferred from the model, say). ``made`` is written as
    ``2019-03`` or ``2019`` and supply values as plain numbers (``120``, ``15``, ``1.5``).
    """

    name: FieldName
    text: str = ""
    confidence: float = 0.0
    outcome: Outcome = Outcome.TYPE
    box: Box | None = None
    candidates: tuple[Candidate, ...] = ()


@dataclass(frozen=True)
class Barcode:
    """A decoded symbol: ``format`` as ISO calls it (Code 39, Code 128, QR Code, Data Matrix)."""

    format: str
    text: str
    box: Box


@dataclass(frozen=True)
class TextLine:
    """A line of print that was found, upright, with the reader's own confidence."""

    text: str
    confidence: float
    box: Box


@dataclass(frozen=True)
class Proposal:
    """All that was read from one photo.

    ``plate`` outlines the plate that was read, None if none was found; ``plates`` counts how many
    seem to be in the picture. ``version`` names the reader, its models and its fitted figures.
    """

    fields: dict[FieldName, ReadField]
    barcodes: tuple[Barcode, ...] = ()
    lines: tuple[TextLine, ...] = ()
    plate: Box | None = None
    plates: int = 0
    outcome: Outcome = Outcome.TYPE
    version: str = ""
    seconds: float = 0.0
    features: dict[str, dict[str, float]] = field(default_factory=dict)

    def text_of(self, name: FieldName) -> str:
        found = self.fields.get(name)
        return found.text if found else ""

    def as_json(self) -> dict:
        """Plain lists, dicts, texts and numbers, for a JSON column or a document."""
        return asdict(self)

    @classmethod
    def from_json(cls, kept: dict) -> "Proposal":
        """The proposal that ``as_json`` wrote down."""
        return cls(
            **kept
            | {
                "fields": {FieldName(name): _field(one) for name, one in kept["fields"].items()},
                "barcodes": tuple(
                    Barcode(**one | {"box": _box(one["box"])}) for one in kept["barcodes"]
                ),
                "lines": tuple(
                    TextLine(**one | {"box": _box(one["box"])}) for one in kept["lines"]
                ),
                "plate": _box(kept["plate"]),
                "outcome": Outcome(kept["outcome"]),
            }
        )


def _field(kept: dict) -> ReadField:
    return ReadField(
        **kept
        | {
            "name": FieldName(kept["name"]),
            "outcome": Outcome(kept["outcome"]),
            "box": _box(kept["box"]),
            "candidates": tuple(Candidate(**one) for one in kept["candidates"]),
        }
    )


def _box(kept) -> Box | None:
    return tuple((x, y) for x, y in kept) if kept else None
