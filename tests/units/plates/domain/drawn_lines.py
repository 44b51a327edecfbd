"""Lines of print drawn in the tuning families' typefaces."""

import numpy as np
from PIL import Image, ImageDraw

from tests.platemaker.fonts import font
from units.plates.domain.sight.engine import Glyph, Print


def drawn(text, typeface, *, read_as=None, weight=0.9):
    """A line in this typeface, and its print as the network may have read it."""
    face = font(typeface, 60)
    starts = [20 + face.getlength(text[:at]) for at in range(len(text))]
    width = int(starts[-1] + face.getlength(text[-1]) + 20)
    picture = Image.new("RGB", (width, 90), (235, 235, 230))
    ImageDraw.Draw(picture).text((20, 70), text, font=face, fill=(20, 20, 22), anchor="ls")
    middles = [start + face.getlength(one) / 2 for start, one in zip(starts, text, strict=True)]
    glyphs = tuple(Glyph(one, weight) for one in read_as or text)
    return np.asarray(picture)[:, :, ::-1].copy(), Print(glyphs, tuple(x / width for x in middles))
