"""Make one photo: facts, words, plate, years, scene, phone."""

from dataclasses import replace
from random import Random

import cv2
import numpy as np
from PIL import Image

from tests.platemaker import spoilings, surface
from tests.platemaker.facts import Facts, draw_facts
from tests.platemaker.layouts import FAMILIES
from tests.platemaker.layouts.family import Brief
from tests.platemaker.scene import Shot, find_pose, shoot
from tests.platemaker.sheet import Sheet
from tests.platemaker.surface import STRENGTH, plate_of
from tests.platemaker.truth import SETS, MadePhoto, Truth
from tests.platemaker.wording import Wording, word

TIERS = ("easy", "normal", "hard")
# How many spoilings of each sort a photo of a tier gets at most, and its JPEG quality.
COUNTS = {"easy": (1, 1), "normal": (2, 3), "hard": (3, 4)}
QUALITY = {"easy": (80, 92), "normal": (55, 88), "hard": (30, 75)}
AGES = {
    "tune": (surface.dirt, surface.scratches, surface.gouge, surface.dust, surface.worn),
    "judge": (
        surface.dirt,
        surface.scratches,
        surface.gouge,
        surface.dust,
        surface.worn,
        surface.drops,
        surface.curved,
    ),
}
# In the order in which light, optics and sensor act.
TAKES = {
    "tune": (
        spoilings.uneven_light,
        spoilings.shade_edge,
        spoilings.glare,
        spoilings.dim,
        spoilings.defocus,
        spoilings.motion,
        spoilings.grain,
        spoilings.colour_grain,
    ),
    "judge": (
        spoilings.uneven_light,
        spoilings.shade_edge,
        spoilings.hand_shadow,
        spoilings.glare,
        spoilings.dim,
        spoilings.moire,
        spoilings.lens,
        spoilings.defocus,
        spoilings.motion,
        spoilings.grain,
        spoilings.colour_grain,
        spoilings.oversharp,
    ),
}
# A photo of a tier is spoiled by one of these at most: each alone takes what a person can bear.
BLURS = (spoilings.defocus, spoilings.motion)
ORIENTATION = 0x0112
UPRIGHT, HALF, LEFT, RIGHT = 1, 3, 8, 6
TURNED = {HALF: 2, LEFT: 3, RIGHT: 1}  # quarter turns anticlockwise that the tag undoes


def family_names(families: str) -> tuple[str, ...]:
    return tuple(family.name for family in FAMILIES[families])


def make_photo(*, seed: int, tier: str, families: str) -> MadePhoto:
    """A photo that depends on the arguments alone; seeds in a row take the families in turn."""
    if tier not in TIERS or families not in SETS:
        raise ValueError(f"tier is one of {TIERS}, families one of {SETS}.")
    rng = Random(f"{families}/{tier}/{seed}")
    sheet, wording, facts, family = draw_sheet(seed, rng, families)
    plate = plate_of(sheet, rng)
    ages = _some(AGES[families], rng, COUNTS[tier][0], tier)
    for age in ages:
        age(plate, rng, STRENGTH[tier] * rng.uniform(0.5, 1))
    shot = shoot(plate, find_pose(plate, rng, tier), rng, tier)
    takes = take(shot, rng, families)
    names = tuple(one.__name__ for one in (*ages, *takes))
    jpeg = developed(shot, rng)
    return MadePhoto(jpeg, truth_of(facts, wording, sheet), family, tier, names)


def draw_sheet(seed: int, rng: Random, families: str) -> tuple[Sheet, Wording, Facts, str]:
    """A plate, fresh from the printer."""
    family = FAMILIES[families][seed % len(FAMILIES[families])]
    facts = draw_facts(rng, families)
    wording = word(facts, rng.choice(family.languages), rng, families)
    scale = rng.choice((1.3, 1.6, 2.0))
    return family.draw(Brief(facts, wording, rng, scale, families)), wording, facts, family.name


def _some(ways: tuple, rng: Random, most: int, tier: str) -> list:
    """Up to ``most`` of the ways, in their order, a single blur among them."""
    chosen = rng.sample(ways, rng.randint(0 if tier == "easy" else 1, most))
    blurs = [one for one in chosen if one in BLURS]
    return [one for one in ways if one in chosen and one not in blurs[1:]]


def take(shot: Shot, rng: Random, families: str) -> list:
    takes = _some(TAKES[families], rng, COUNTS[shot.tier][1], shot.tier)
    for way in takes:
        way(shot, STRENGTH[shot.tier] * rng.uniform(0.6, 1))
    return takes


def developed(shot: Shot, rng: Random) -> bytes:
    """The file: compressed, and in a third of the cases turned with a tag that says so."""
    picture, tag = shot.picture, UPRIGHT
    if rng.random() < 0.33:
        tag = rng.choice((HALF, LEFT, RIGHT))
        picture = np.rot90(picture, TURNED[tag])
    quality = rng.randint(*QUALITY[shot.tier])
    bgr = cv2.cvtColor(np.ascontiguousarray(picture), cv2.COLOR_RGB2BGR)
    content = cv2.imencode(".jpg", bgr, [cv2.IMWRITE_JPEG_QUALITY, quality])[1].tobytes()
    return content if tag == UPRIGHT else _tagged(content, tag)


def _tagged(jpeg: bytes, tag: int) -> bytes:
    """The JPEG with an EXIF segment (marker APP1) that says which way is up."""
    exif = Image.Exif()
    exif[ORIENTATION] = tag
    facts = exif.tobytes()
    return jpeg[:2] + b"\xff\xe1" + (len(facts) + 2).to_bytes(2, "big") + facts + jpeg[2:]


def truth_of(facts: Facts, wording: Wording, sheet: Sheet) -> Truth:
    """What of the facts the plate shows."""
    whole = Truth(
        maker=facts.maker,
        model=facts.model,
        serial=facts.serial,
        volts=facts.volts,
        hertz=facts.hertz,
        amps=facts.amps,
        made=wording.made,
        barcodes=tuple(sheet.codes),
        known_model=facts.known_model,
        known_shape=facts.known_shape,
    )
    hidden = {"maker", "volts", "hertz", "amps", "made"} - sheet.shown
    return replace(whole, **dict.fromkeys(hidden, ""))
