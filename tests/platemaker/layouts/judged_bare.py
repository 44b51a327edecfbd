"""Designs with few labels, or with labels where nobody looks, that are kept for judging."""

from tests.platemaker.layouts.family import (
    BLACK,
    BLUE,
    CREAM,
    GREY,
    SILVER,
    STEEL,
    WHITE,
    Brief,
    in_languages,
)
from tests.platemaker.sheet import Sheet


@in_languages("en", "en", "de")
def side_text(brief: Brief) -> Sheet:
    """The maker and a warning run up the sides, the data between them."""
    entries = brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(max(400, 90 + 112 * len(entries)), WHITE, GREY, BLUE)
    size = sheet.fitting(brief.wording.maker, "logo", 72, sheet.height - 60)
    sheet.sideways(24, sheet.height - 24, brief.wording.maker, "logo", size)
    sheet.shown.add("maker")
    sheet.sideways(958, sheet.height - 20, "Do not remove this label", "label", 26)
    sheet.line(140, 20, 140, sheet.height - 20, 3)
    y = 74
    for entry in entries:
        sheet.text(170, y, entry.label, "label", 28, within=740)
        sheet.value(entry.key, 170, y + 54, entry.value, size=50, within=740)
        y += 112
    return sheet


@in_languages("en")
def bare_values(brief: Brief) -> Sheet:
    """Values without a word beside them; a barcode of the serial beneath."""
    rng, facts = brief.rng, brief.facts
    sheet = brief.sheet(520, WHITE, SILVER)
    sheet.value("maker", 40, 88, brief.wording.maker, "logo", 58, within=700)
    sheet.value("model", 40, 176, facts.model, "logo", 66, bold=True, within=600)
    sheet.code(rng.choice(("Code 128", "Code 128", "Code 39")), facts.serial, 40, 210, 920, 130)
    sheet.value("serial", 40, 400, facts.serial, size=48, within=900)
    for entry in brief.some("supply", leave=0.3):
        sheet.value("supply", 40, 470, entry.value, size=34, within=900)
    return sheet


@in_languages("en", "en", "fr")
def value_first(brief: Brief) -> Sheet:
    """The value above, its label beneath a thin line."""
    entries = brief.some("serial", "model", "made", "supply")
    sheet = brief.sheet(140 + 122 * len(entries), WHITE, CREAM, BLUE)
    y = 84
    for entry in entries:
        sheet.value(entry.key, 60, y, entry.value, size=50, within=880)
        sheet.line(60, y + 14, 700, y + 14, 1.6)
        sheet.text(60, y + 44, entry.label, "label", 25, within=600)
        y += 122
    sheet.value(
        "maker", 940, sheet.height - 34, brief.wording.maker, "logo", 50, anchor="rs", within=860
    )
    return sheet


@in_languages("en", "en", "es")
def two_pieces(brief: Brief) -> Sheet:
    """A printed plate of the maker, with the serial on a white sticker of its own."""
    rng, wording = brief.rng, brief.wording
    sheet = brief.sheet(640, BLACK, GREY, STEEL)
    sheet.value("maker", 50, 92, wording.maker, "logo", 60, within=880)
    y, joint = 172, brief.joint()
    for entry in brief.some("model", "supply", "made"):
        width = sheet.text(50, y, entry.label + joint, "label", 34, within=420)
        sheet.value(entry.key, 50 + width, y, entry.value, size=42, within=880 - width)
        y += 66
    tilt = rng.uniform(-6, 6)
    sheet.box(50 + tilt, 400, 950 + tilt, 620, 0, fill=(240, 240, 236), radius=8)
    entry = wording.entries["serial"]
    dark = (22, 22, 24)
    width = sheet.text(80, 462, entry.label + joint, "value", 34, ink=dark, within=360)
    sheet.value("serial", 80 + width, 462, entry.value, size=46, ink=dark, within=840 - width)
    if rng.random() < 0.8:
        sheet.code(rng.choice(("Code 128", "Code 39")), entry.value, 80, 490, 840, 105)
    return sheet


FAMILIES = (side_text, bare_values, value_first, two_pieces)
