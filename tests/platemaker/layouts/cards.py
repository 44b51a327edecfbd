"""Printed labels to tune on."""

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


@in_languages("en", "en", "de", "fr")
def one_column(brief: Brief) -> Sheet:
    """``label: value``, line under line."""
    entries = brief.some("model", "serial", "supply", "made")
    brief.rng.shuffle(entries)
    sheet = brief.sheet(190 + 72 * len(entries), WHITE, CREAM, SILVER)
    maker = brief.wording.maker
    sheet.value("maker", 40, 90, maker, "logo", 58, bold=True, within=900)
    joint, y = brief.joint(), 175
    for entry in entries:
        width = sheet.text(40, y, entry.label + joint, "label", 36, bold=True, within=460)
        sheet.value(entry.key, 40 + width, y, entry.value, size=42, within=920 - width)
        y += 72
    return sheet


@in_languages("en", "es", "en")
def ruled_table(brief: Brief) -> Sheet:
    """Two columns between rules."""
    entries = brief.some("maker", "model", "serial", "volts", "hertz", "amps", "made")
    row = 74
    sheet = brief.sheet(40 + row * len(entries), WHITE, GREY, BLUE)
    split = brief.rng.choice((330, 390, 440))
    sheet.box(20, 20, 980, 20 + row * len(entries), 3)
    sheet.line(split, 20, split, 20 + row * len(entries), 2)
    for at, entry in enumerate(entries):
        y = 20 + row * at
        if at:
            sheet.line(20, y, 980, y, 2)
        sheet.text(36, y + 50, entry.label, "label", 32, within=split - 50)
        sheet.value(entry.key, split + 18, y + 53, entry.value, size=42, within=960 - split)
    return sheet


@in_languages("en", "en", "fr")
def label_above(brief: Brief) -> Sheet:
    """Small label, value beneath it, in two columns."""
    entries = brief.some("model", "serial", "supply", "made")
    lines = (len(entries) + 1) // 2
    sheet = brief.sheet(170 + 140 * lines, WHITE, SILVER, BLUE)
    sheet.value("maker", 500, 96, brief.wording.maker, "logo", 60, anchor="ms", within=900)
    sheet.line(40, 125, 960, 125, 3)
    for at, entry in enumerate(entries):
        x, y = 50 + 470 * (at % 2), 175 + 140 * (at // 2)
        sheet.text(x, y, entry.label, "label", 26, ink=sheet.palette.second, within=430)
        sheet.value(entry.key, x, y + 56, entry.value, size=48, bold=True, within=430)
    return sheet


@in_languages("en", "en es")
def boxed_cells(brief: Brief) -> Sheet:
    """Each field in a cell of a form, the label in the cell's corner."""
    sheet = brief.sheet(620, WHITE, GREY, CREAM)
    sheet.box(20, 20, 980, 150, 3)
    sheet.value("maker", 500, 108, brief.wording.maker, "logo", 62, anchor="ms", within=900)
    small = brief.some("volts", "hertz", "amps", "made", leave=0.1)
    cells = [(20, 150, 980, 300, "model"), (20, 300, 980, 450, "serial")]
    if brief.rng.random() < 0.5:
        cells = [(20, 150, 480, 300, "model"), (480, 150, 980, 300, "serial")]
    bottom = cells[-1][3]
    wide = 960 / max(1, len(small))
    cells += [
        (20 + wide * at, bottom, 20 + wide * (at + 1), bottom + 130, entry.key)
        for at, entry in enumerate(small)
    ]
    for x0, y0, x1, y1, key in cells:
        entry = brief.wording.entries[key]
        sheet.box(x0, y0, x1, y1, 2)
        sheet.text(x0 + 10, y0 + 32, entry.label, "label", 24, within=x1 - x0 - 20)
        middle = (x0 + x1) / 2
        sheet.value(key, middle, y1 - 34, entry.value, size=52, anchor="ms", within=x1 - x0 - 30)
    return sheet


@in_languages("en", "de")
def logo_tiny(brief: Brief) -> Sheet:
    """The maker's name fills the plate, the data is small below."""
    sheet = brief.sheet(560, WHITE, SILVER, GREY, mono=0.2)
    sheet.box(0, 0, 1000, 300, 0, fill=sheet.palette.ink)
    maker = brief.wording.maker
    light = sheet.palette.paper
    sheet.value("maker", 500, 205, maker, "logo", 150, anchor="ms", within=900, ink=light)
    joint, y = brief.joint(), 350
    for entry in brief.some("model", "serial", "supply", "made"):
        width = sheet.text(60, y, entry.label + joint, "label", 30, within=330)
        sheet.value(entry.key, 60 + width, y, entry.value, size=34, within=880 - width)
        y += 52
    decoy = brief.wording.decoys[0]
    sheet.text(940, 540, f"{decoy.label} {decoy.value}", "label", 20, anchor="rs")
    return sheet


@in_languages("en", "en", "es")
def foil_barcode(brief: Brief) -> Sheet:
    """A foil sticker with the serial as a barcode beneath its print."""
    rng = brief.rng
    sheet = brief.sheet(600, SILVER, WHITE)
    entries = brief.wording.entries
    sheet.value("maker", 40, 80, brief.wording.maker, "logo", 52, within=520)
    joint = brief.joint()
    y = 160
    for key in ("model", "serial"):
        width = sheet.text(40, y, entries[key].label + joint, "label", 34, within=420)
        sheet.value(key, 40 + width, y, entries[key].value, size=46, within=900 - width)
        y += 76
    if rng.random() < 0.9:
        sort = rng.choice(("Code 39", "Code 128", "Code 128"))
        text = brief.facts.serial
        y = linear_code(sheet, sort, text, 40, y - 30, 900, 110, rng.random() < 0.5)
    for entry in brief.some("supply", "made", leave=0.3):
        y += 46
        sheet.text(40, y, entry.label + joint, "label", 28, within=380)
        sheet.value(entry.key, 440, y, entry.value, size=32, within=520)
    if rng.random() < 0.35:
        sort, text = brief.unrelated()
        linear_code(sheet, sort, text, 600, 28, 340, 70)
    return sheet


@in_languages("en", "en de")
def square_code(brief: Brief) -> Sheet:
    """A square symbol at the side, the text beside it."""
    rng = brief.rng
    sheet = brief.sheet(500, WHITE, BLUE, SILVER, mono=0.6)
    sort = rng.choice(("QR Code", "QR Code", "Data Matrix"))
    facts = brief.facts
    text = rng.choice(
        (facts.serial, f"{facts.model} {facts.serial}", f"SN:{facts.serial};MN:{facts.model}")
    )
    left = rng.random() < 0.4
    if rng.random() < 0.92:
        sheet.code(sort, text, 30 if left else 690, 130, 280, 280)
    x = 330 if left else 40
    sheet.value("maker", 40, 90, brief.wording.maker, "logo", 60, within=900)
    y = 180
    for entry in brief.some("model", "serial", "supply", "made"):
        sheet.text(x, y, entry.label, "label", 24, within=600)
        sheet.value(entry.key, x, y + 46, entry.value, size=44, within=620)
        y += 84
    return sheet


FAMILIES = (
    one_column,
    ruled_table,
    label_above,
    boxed_cells,
    logo_tiny,
    foil_barcode,
    square_code,
)
