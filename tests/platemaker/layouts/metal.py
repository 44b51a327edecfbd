"""Metal plates and coder print to tune on."""

from tests.platemaker.layouts.family import (
    CREAM,
    SILVER,
    STEEL,
    WHITE,
    Brief,
    in_languages,
    linear_code,
)
from tests.platemaker.sheet import Sheet


def rivets(sheet: Sheet, *places: tuple[float, float]) -> None:
    for x, y in places:
        sheet.box(x - 16, y - 16, x + 16, y + 16, 2, fill=(120, 122, 125), radius=16)
        sheet.box(x - 9, y - 11, x + 5, y + 3, 0, fill=(176, 178, 180), radius=8)


@in_languages("en", "en", "de")
def stamped_metal(brief: Brief) -> Sheet:
    """Printed labels and frames; the values struck in afterwards, a little off their place."""
    rng = brief.rng
    entries = brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(200 + 100 * len(entries), STEEL, SILVER, mono=0.8)
    sheet.value("maker", 500, 105, brief.wording.maker, "logo", 66, anchor="ms", within=840)
    rivets(sheet, (40, 40), (960, 40), (40, sheet.height - 40), (960, sheet.height - 40))
    y = 200
    for entry in entries:
        sheet.text(70, y, entry.label, "label", 32, bold=True, within=290)
        sheet.box(380, y - 58, 930, y + 22, 2)
        dx, dy = rng.uniform(0, 50), rng.uniform(-8, 8)
        sheet.stamped(entry.key, 395 + dx, y + dy, entry.value, 52, within=470)
        y += 100
    return sheet


@in_languages("en", "en", "fr")
def dot_matrix(brief: Brief) -> Sheet:
    """A printed form filled in by a coder that prints dots."""
    rng = brief.rng
    entries = brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(170 + 92 * len(entries), WHITE, CREAM, SILVER)
    sheet.value("maker", 40, 88, brief.wording.maker, "logo", 56, within=880)
    ink = rng.choice(((30, 30, 34), (40, 44, 90), (70, 40, 40)))
    y = 175
    for entry in entries:
        sheet.text(40, y, entry.label, "label", 32, within=330)
        x = 395 + rng.uniform(-10, 12)
        sheet.value(
            entry.key, x, y + rng.uniform(-5, 6), entry.value, "dots", 46, within=560, ink=ink
        )
        y += 92
    return sheet


@in_languages("en es", "en fr", "en de")
def two_languages(brief: Brief) -> Sheet:
    """Labels in two languages on one line, values to the right."""
    rng = brief.rng
    entries = brief.some("maker", "model", "serial", "supply", "made")
    coded = rng.random() < 0.6
    sheet = brief.sheet(70 + 82 * len(entries) + 130 * coded, WHITE, SILVER, CREAM)
    y = 90
    for entry in entries:
        sheet.text(36, y, entry.label, "label", 28, within=440)
        sheet.value(entry.key, 500, y, entry.value, size=42, within=470)
        y += 82
    if coded:
        text = brief.facts.serial if rng.random() < 0.7 else brief.facts.model
        linear_code(sheet, rng.choice(("Code 39", "Code 128")), text, 36, y - 40, 900, 100)
    return sheet


FAMILIES = (stamped_metal, dot_matrix, two_languages)
