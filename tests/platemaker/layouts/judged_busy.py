"""Crowded designs that are kept for judging."""

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

WARNINGS = (
    "CAUTION: Keep hands and clothing away from moving parts.",
    "Disconnect from supply before servicing.",
    "For indoor use only. Connect to a grounded outlet.",
    "WARNING: Risk of injury. Read the manual before use.",
    "ATTENTION : débrancher avant tout entretien.",
    "PRECAUCIÓN: desconecte antes de dar servicio.",
    "This device complies with Part 15. Operation is subject to two conditions.",
    "Maximum user weight 350 lb (159 kg). Do not operate with covers removed.",
)
ADDRESSES = (
    "{} · Unit 4, Saltmere Works · Fennholm · Tel. 555-0142",
    "Manufactured for {} , 18 Quillon Way, Oxley Ferry",
    "Distributed by {}  P.O. Box 555, Marrowgate",
    "© {}  All rights reserved. www.example.com",
)


@in_languages("en", "en", "en fr")
def text_wall(brief: Brief) -> Sheet:
    """The data is one block among warnings and approval marks."""
    rng = brief.rng
    sheet = brief.sheet(680, WHITE, SILVER, GREY, mono=0.3)
    sheet.value("maker", 30, 72, brief.wording.maker, "logo", 50, within=520)
    for x in (760, 860):
        sheet.box(x, 26, x + 84, 96, 4, radius=rng.choice((0, 40)))
        sheet.text(x + 42, 74, rng.choice(("QS", "EC", "AT", "R1")), "logo", 36, anchor="ms")
    y, joint = 140, brief.joint()
    walls = rng.sample(WARNINGS, 6)
    for line in walls[:2]:
        sheet.text(30, y, line, "label", 24, within=940)
        y += 34
    y += 24
    for entry in brief.some("model", "serial", "supply", "made"):
        width = sheet.text(30, y, entry.label + joint, "label", 34, bold=True, within=400)
        sheet.value(entry.key, 30 + width, y, entry.value, size=38, within=930 - width)
        y += 58
    y += 12
    for line in walls[2:]:
        sheet.text(30, y, line, "label", 23, within=940)
        y += 33
    return sheet


@in_languages("en", "en", "de")
def decoys(brief: Brief) -> Sheet:
    """Many numbers, each with a label, of which only one is the serial."""
    rng, wording = brief.rng, brief.wording
    sheet = brief.sheet(600, WHITE, CREAM, BLUE)
    sheet.value("maker", 30, 76, wording.maker, "logo", 52, within=600)
    cells = [*wording.of("model", "serial", "supply", "made"), *wording.decoys[:4]]
    rng.shuffle(cells)
    joint = brief.joint()
    for at, entry in enumerate(cells):
        x, y = 30 + 485 * (at % 2), 150 + 84 * (at // 2)
        sheet.text(x, y - 6, entry.label + joint.rstrip(" "), "label", 24, within=440)
        sheet.value(entry.key, x, y + 38, entry.value, size=40, within=455)
    if rng.random() < 0.6:
        sort, text = brief.unrelated()
        linear_code(sheet, sort, text, 30, 510, 440, 70)
    if rng.random() < 0.5:
        if rng.random() < 0.4:
            sheet.code("Data Matrix", brief.facts.serial, 850, 20, 110, 110)
        else:
            linear_code(sheet, "Code 128", brief.facts.serial, 515, 510, 450, 70)
    return sheet


@in_languages("en es fr zh", "en es fr de", "en fr de zh")
def four_languages(brief: Brief) -> Sheet:
    """Each label in four languages on one line, the value on the line below."""
    facts, entries = brief.facts, brief.some("model", "serial", "supply", "made")
    sheet = brief.sheet(150 + 116 * len(entries), WHITE, SILVER, GREY)
    sheet.value("maker", 36, 84, brief.wording.maker, "logo", 56, within=700)
    room = 930
    if brief.rng.random() < 0.45:
        room = 690
        sort = brief.rng.choice(("QR Code", "Data Matrix"))
        sheet.code(sort, f"{facts.model} {facts.serial}", 745, 30, 230, 230)
    y = 145
    for entry in entries:
        sheet.text(36, y, entry.label, "label", 26, within=room)
        sheet.value(entry.key, 36, y + 54, entry.value, size=48, bold=True, within=room)
        y += 116
    return sheet


@in_languages("en", "es", "fr")
def address_maker(brief: Brief) -> Sheet:
    """The maker's name stands only in a line of small print at the bottom."""
    rng = brief.rng
    entries = brief.some("model", "serial", "supply", "made")
    coded = rng.random() < 0.6
    sheet = brief.sheet(150 + 78 * len(entries) + 110 * coded, WHITE, CREAM, SILVER)
    y, joint = 84, brief.joint()
    for entry in entries:
        sheet.text(40, y, entry.label + joint, "label", 34, within=420)
        sheet.value(entry.key, 480, y, entry.value, size=44, within=490)
        y += 78
    if coded:
        y = linear_code(sheet, "Code 39", brief.facts.serial, 40, y - 36, 920, 84) + 30
    line = rng.choice(ADDRESSES)
    before, after = line.split("{}")
    size = sheet.fitting(before + brief.wording.maker + after, "label", 28, 920)
    x = 40 + sheet.text(40, y + 6, before, "label", size)
    x += sheet.value("maker", x, y + 6, brief.wording.maker, "label", size)
    sheet.text(x, y + 6, after, "label", size)
    return sheet


FAMILIES = (text_wall, decoys, four_languages, address_maker)
