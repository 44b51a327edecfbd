"""Plain designs that are kept for judging."""

from tests.platemaker.layouts.family import (
    BLACK,
    CREAM,
    GREY,
    SILVER,
    STEEL,
    WHITE,
    Brief,
    in_languages,
    linear_code,
)
from tests.platemaker.layouts.metal import rivets
from tests.platemaker.sheet import Palette, Sheet

THERMAL = Palette((236, 235, 230), (58, 56, 58), "thermal")
NIGHT = Palette((18, 30, 56), (222, 226, 230), "plastic", (150, 160, 176))


@in_languages("en", "en", "fr")
def white_on_black(brief: Brief) -> Sheet:
    """Light print on a dark plate, labels aligned to the right."""
    entries = brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(180 + 84 * len(entries), BLACK, NIGHT)
    sheet.value("maker", 60, 100, brief.wording.maker, "logo", 66, within=880)
    sheet.line(60, 130, 940, 130, 3)
    y = 205
    for entry in entries:
        sheet.text(390, y, entry.label, "label", 30, anchor="rs", within=340)
        sheet.value(entry.key, 415, y, entry.value, size=46, within=530)
        y += 84
    return sheet


@in_languages("en", "en", "es")
def thermal_label(brief: Brief) -> Sheet:
    """A paper label from a thermal printer: serial large, barcode, everything in one typeface."""
    rng = brief.rng
    sheet = brief.sheet(660, THERMAL, mono=1.0)
    sheet.faces["label"] = sheet.faces["value"]
    entries, joint = brief.wording.entries, rng.choice((":", ": ", " "))
    sheet.value("maker", 36, 70, brief.wording.maker, "value", 44, bold=True, within=900)
    y = 140
    for entry in brief.some("model", "supply", "made"):
        width = sheet.text(36, y, entry.label + joint, "value", 34, within=420)
        sheet.value(entry.key, 36 + width, y, entry.value, size=38, within=900 - width)
        y += 60
    width = sheet.text(36, y + 20, entries["serial"].label + joint, "value", 34, within=360)
    sheet.value("serial", 36 + width, y + 20, entries["serial"].value, size=56, within=900 - width)
    if rng.random() < 0.85:
        sort = rng.choice(("Code 128", "Code 39"))
        linear_code(sheet, sort, brief.facts.serial, 36, y + 50, 920, 120, rng.random() < 0.4)
    return sheet


@in_languages("en", "de", "en")
def rounded_riveted(brief: Brief) -> Sheet:
    """A plate with round ends, fields centred, two rivets."""
    entries = brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(200 + 80 * len(entries), STEEL, SILVER, mono=0.3, corner=130)
    rivets(sheet, (60, sheet.height / 2), (940, sheet.height / 2))
    sheet.box(18, 18, 982, sheet.height - 18, 3, radius=118)
    sheet.value("maker", 500, 105, brief.wording.maker, "logo", 60, anchor="ms", within=640)
    joint, y = brief.joint(), 185
    for entry in entries:
        whole = entry.label + joint + entry.value
        size = sheet.fitting(whole, "label", 40, 760, True)
        label = sheet.width_of(entry.label + joint, "label", size)
        value = sheet.width_of(entry.value, "value", size, True)
        x = 500 - (label + value) / 2
        sheet.text(x, y, entry.label + joint, "label", size)
        sheet.value(entry.key, x + label, y, entry.value, size=size, bold=True)
        y += 80
    return sheet


@in_languages("en", "en", "en es")
def header_row(brief: Brief) -> Sheet:
    """A row of headings and a row of values beneath."""
    rng = brief.rng
    sheet = brief.sheet(430, WHITE, GREY, CREAM)
    sheet.value("maker", 500, 92, brief.wording.maker, "logo", 60, anchor="ms", within=900)
    split = rng.choice((400, 460))
    tops = [(30, split - 20, "model"), (split + 20, 970, "serial")]
    for x0, x1, key in tops:
        entry = brief.wording.entries[key]
        sheet.text(x0 + 6, 160, entry.label, "label", 28, bold=True, within=x1 - x0)
        sheet.value(key, x0 + 6, 225, entry.value, size=50, within=x1 - x0 - 10)
    sheet.line(30, 174, 970, 174, 2)
    small = brief.some("volts", "hertz", "amps", "made")
    wide = 940 / max(1, len(small))
    for at, entry in enumerate(small):
        x = 36 + wide * at
        sheet.text(x, 300, entry.label, "label", 24, within=wide - 12)
        sheet.value(entry.key, x, 352, entry.value, size=38, within=wide - 12)
    return sheet


@in_languages("zh", "zh en")
def chinese_first(brief: Brief) -> Sheet:
    """Chinese labels, the maker in Latin letters."""
    rng = brief.rng
    entries = brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(170 + 86 * len(entries), WHITE, SILVER, GREY)
    sheet.value("maker", 40, 88, brief.wording.maker, "logo", 56, within=640)
    sheet.text(960, 88, rng.choice(("跑步机", "健身车", "电动健身器材")), "label", 44, anchor="rs")
    joint, y = rng.choice(("\uff1a", ": ", " ")), 175
    for entry in entries:
        width = sheet.text(40, y, entry.label + joint, "label", 36, within=460)
        sheet.value(entry.key, 44 + width, y, entry.value, size=44, within=910 - width)
        y += 86
    return sheet


FAMILIES = (white_on_black, thermal_label, rounded_riveted, header_row, chinese_first)
