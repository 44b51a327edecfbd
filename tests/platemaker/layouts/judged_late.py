"""Designs drawn later, in place of two that had to be looked at."""

from tests.platemaker.layouts.family import (
    BLUE,
    CREAM,
    GREY,
    SILVER,
    WHITE,
    Brief,
    in_languages,
    linear_code,
)
from tests.platemaker.sheet import Sheet


@in_languages("en", "fr", "de")
def tall_ticket(brief: Brief) -> Sheet:
    """A tall sticker: every label and value centred under one another, a barcode at the foot."""
    rng, entries = brief.rng, brief.some("serial", "model", "supply", "made")
    coded = rng.random() < 0.6
    sheet = brief.sheet(210 + 150 * len(entries) + 150 * coded, WHITE, CREAM, BLUE, mono=0.5)
    sheet.value("maker", 500, 110, brief.wording.maker, "logo", 66, anchor="ms", within=880)
    y = 160
    for entry in entries:
        sheet.line(120, y, 880, y, 1.5)
        sheet.text(500, y + 44, entry.label, "label", 30, anchor="ms", within=800)
        sheet.value(entry.key, 500, y + 112, entry.value, size=58, anchor="ms", within=860)
        y += 150
    if coded:
        sort = rng.choice(("Code 128", "Code 39"))
        linear_code(sheet, sort, brief.facts.serial, 90, y + 10, 820, 110)
    return sheet


@in_languages("en", "en", "es")
def split_panel(brief: Brief) -> Sheet:
    """A dark panel with the maker at the left; at the right the values under small labels."""
    rng, facts = brief.rng, brief.facts
    entries = brief.some("model", "serial", "made", "supply")
    sheet = brief.sheet(90 + 118 * len(entries), GREY, SILVER, WHITE)
    sheet.box(0, 0, 250, sheet.height, 0, fill=sheet.palette.ink)
    light = sheet.palette.paper
    sheet.value("maker", 125, 90, facts.maker, "logo", 60, anchor="ms", within=214, ink=light)
    y = 60
    for entry in entries:
        sheet.text(300, y, entry.label, "label", 27, within=640)
        sheet.value(entry.key, 300, y + 56, entry.value, size=50, bold=True, within=660)
        y += 118
    if rng.random() < 0.4:
        decoy = brief.wording.decoys[0]
        sheet.text(960, sheet.height - 14, f"{decoy.label} {decoy.value}", "label", 20, anchor="rs")
    return sheet


FAMILIES = (tall_ticket, split_panel)
