"""The networks that find print in a picture and read it, run on this computer, offline.

The weights come with the package rapidocr (PP-OCRv6, Apache licence 2.0). They are driven here
without its pipeline, because a plate needs what that throws away: how sure every single character
is, and what else it could be.
"""

from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
import onnxruntime
import rapidocr
from rapidocr._version import __version__ as rapidocr_version
from rapidocr.ch_ppocr_det.utils import DBPostProcess

MODELS = Path(rapidocr.__file__).parent / "models"
FINDER, READER = "PP-OCRv6_det_small.onnx", "PP-OCRv6_rec_small.onnx"
VERSION = f"rapidocr {rapidocr_version}, {FINDER[:-5]}, {READER[:-5]}"
LINE_HEIGHT = 48  # pixels: what the reading network was made for
NARROWEST, WIDEST = 64, 2400
BATCH = 6
# Characters that a plate's figures are made of; rarer ones are kept only as the first choice.
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-./ "
LEAST = 0.002


@dataclass(frozen=True)
class Glyph:
    """One character as read: the first choice, and what else it could be with how much weight.

    ``nothing`` is the weight of there being no character at all; ``settled`` says that a measure
    of the print, not the network alone, told the character from its look-alike.
    """

    char: str
    weight: float
    others: tuple[tuple[str, float], ...] = ()
    nothing: float = 0.0
    settled: bool = False


@dataclass(frozen=True)
class Print:
    """The characters of one line and where each stands, as a fraction of the line's length."""

    glyphs: tuple[Glyph, ...]
    places: tuple[float, ...]

    @property
    def text(self) -> str:
        return "".join(glyph.char for glyph in self.glyphs)

    @property
    def confidence(self) -> float:
        weights = [glyph.weight for glyph in self.glyphs if glyph.char != " "]
        return float(np.mean(weights)) if weights else 0.0


class Engine:
    """Both networks, loaded. ``threads`` bounds the cores that one photo may use."""

    def __init__(self, threads: int = 2):
        self._finder = _session(FINDER, threads)
        self._reader = _session(READER, threads)
        alphabet = self._reader.get_modelmeta().custom_metadata_map["character"].splitlines()
        self._characters = ["", *alphabet, " "]
        place = {char: index for index, char in enumerate(self._characters)}
        self._usual = np.array([place[char] for char in ALPHABET if char in place])
        self._boxes = DBPostProcess(box_thresh=0.45, unclip_ratio=1.6, use_dilation=True)

    def find(self, picture: np.ndarray, longest: int) -> np.ndarray:
        """Quadrangles of print, shape (n, 4, 2), in pixels of ``picture`` (BGR), looked for in a
        copy whose longer side is ``longest``."""
        height, width = picture.shape[:2]
        scale = longest / max(height, width)
        size = [max(32, round(side * scale / 32) * 32) for side in (width, height)]
        way = cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
        small = cv2.resize(picture, size, interpolation=way)
        scores = self._run(self._finder, (small.astype(np.float32) / 127.5 - 1)[None])
        boxes, _scores = self._boxes(scores, (height, width))
        return np.asarray(boxes, np.float32).reshape(-1, 4, 2)

    def read(self, lines: list[np.ndarray]) -> list[Print]:
        """What upright cut-out lines (BGR) say, in their order."""
        scaled = [_to_line_height(line) for line in lines]
        order = sorted(range(len(scaled)), key=lambda at: scaled[at].shape[1])
        prints: list[Print] = [Print((), ())] * len(scaled)
        for start in range(0, len(order), BATCH):
            chosen = order[start : start + BATCH]
            widest = max(scaled[at].shape[1] for at in chosen)
            batch = np.zeros((len(chosen), LINE_HEIGHT, widest, 3), np.float32)
            for row, at in enumerate(chosen):
                batch[row, :, : scaled[at].shape[1]] = scaled[at].astype(np.float32) / 127.5 - 1
            for row, weights in enumerate(self._run(self._reader, batch)):
                at = chosen[row]
                prints[at] = self._decode(weights, widest / scaled[at].shape[1])
        return prints

    @staticmethod
    def _run(session, batch: np.ndarray) -> np.ndarray:
        return session.run(None, {"x": np.ascontiguousarray(batch.transpose(0, 3, 1, 2))})[0]

    def _decode(self, weights: np.ndarray, stretch: float) -> Print:
        """Collapse one line's weights, shape (steps, characters), into its characters.

        Connectionist temporal classification: runs of one best character are one character,
        class 0 is none. Each run is represented by its surest step.
        """
        best = weights.argmax(axis=1)
        glyphs, places = [], []
        start = 0
        while start < len(best):
            end = start
            while end < len(best) and best[end] == best[start]:
                end += 1
            if best[start]:
                step = start + int(weights[start:end, best[start]].argmax())
                glyphs.append(self._glyph(weights[step], int(best[start])))
                places.append(min(1.0, (step + 0.5) / len(best) * stretch))
            start = end
        return Print(tuple(glyphs), tuple(places))

    def _glyph(self, weights: np.ndarray, best: int) -> Glyph:
        usual = self._usual[weights[self._usual] > LEAST]
        others = tuple((self._characters[at], float(weights[at])) for at in usual if at != best)
        return Glyph(self._characters[best], float(weights[best]), others, float(weights[0]))


def _session(name: str, threads: int) -> onnxruntime.InferenceSession:
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads, options.inter_op_num_threads = threads, 1
    options.enable_cpu_mem_arena = False
    options.log_severity_level = 3
    return onnxruntime.InferenceSession(
        str(MODELS / name), options, providers=["CPUExecutionProvider"]
    )


def _to_line_height(line: np.ndarray) -> np.ndarray:
    height, width = line.shape[:2]
    wide = int(np.clip(round(width * LINE_HEIGHT / max(height, 1)), NARROWEST, WIDEST))
    way = cv2.INTER_AREA if height > LINE_HEIGHT else cv2.INTER_CUBIC
    return cv2.resize(line, (wide, LINE_HEIGHT), interpolation=way)
