"""Pictures and files that no reader of plates is glad to get."""

import struct
import zipfile
import zlib
from io import BytesIO
from random import Random

import cv2
import numpy as np

from tests.platemaker.photo import draw_sheet, make_photo, truth_of
from tests.platemaker.scene import background, find_pose, lay, shoot
from tests.platemaker.surface import plate_of
from tests.platemaker.truth import MadePhoto, Truth

BOMB_SIDE = 50_000
HTML = b"<!DOCTYPE html><script>document.title = 'run'</script>"


def _jpeg(picture: np.ndarray, quality: int = 85) -> bytes:
    bgr = cv2.cvtColor(picture, cv2.COLOR_RGB2BGR)
    return cv2.imencode(".jpg", bgr, [cv2.IMWRITE_JPEG_QUALITY, quality])[1].tobytes()


def no_plate(seed: int = 1) -> bytes:
    """A frame tube or a shroud, and nothing on it."""
    return _jpeg(background((2016, 1512), Random(f"nothing/{seed}"), "easy"))


def dog() -> bytes:
    """A dog on a lawn, drawn."""
    picture = background((1600, 1200), Random("lawn"), "easy")
    picture[:] = picture // 3 + np.uint8((50, 96, 40))
    coat, dark, light = (150, 104, 62), (58, 38, 26), (214, 190, 160)
    for x in (560, 700, 1010, 1130):
        cv2.rectangle(picture, (x, 780), (x + 64, 1040), coat, -1)
    cv2.ellipse(picture, (870, 720), (380, 170), 0, 0, 360, coat, -1)
    cv2.ellipse(picture, (1290, 560), (60, 190), 40, 0, 360, coat, -1)
    cv2.circle(picture, (500, 500), 170, coat, -1)
    for x, lean in ((390, 25), (620, -25)):
        cv2.ellipse(picture, (x, 430), (56, 130), lean, 0, 360, dark, -1)
    cv2.ellipse(picture, (490, 580), (100, 76), 0, 0, 360, light, -1)
    cv2.ellipse(picture, (490, 550), (36, 26), 0, 0, 360, (20, 16, 16), -1)
    for x in (440, 560):
        cv2.circle(picture, (x, 470), 20, (20, 16, 16), -1)
        cv2.circle(picture, (x - 6, 464), 6, (240, 240, 240), -1)
    cv2.ellipse(picture, (490, 604), (44, 30), 0, 10, 170, (20, 16, 16), 6)
    return _jpeg(cv2.GaussianBlur(picture, None, 1.4))


def upside_down(seed: int) -> MadePhoto:
    """A plate that stands on its head, else easy to read, its file without a word about it."""
    rng = Random(f"upside down/{seed}")
    sheet, wording, facts, family = draw_sheet(seed, rng, "tune")
    plate = plate_of(sheet, rng)
    shot = shoot(plate, find_pose(plate, rng, "easy", turn=np.pi), rng, "easy")
    truth = truth_of(facts, wording, sheet)
    return MadePhoto(_jpeg(shot.picture), truth, family, "easy", ("upside_down",))


def two_plates(seed: int) -> tuple[bytes, tuple[Truth, Truth]]:
    """Two machines' plates, one above the other."""
    rng = Random(f"two plates/{seed}")
    picture = background((2400, 2800), rng, "easy")
    truths = []
    for at in range(2):
        sheet, wording, facts, _family = draw_sheet(seed * 2 + at, rng, "tune")
        plate = plate_of(sheet, rng)
        height, width = plate.mask.shape
        scale = min(1900 / width, 1250 / height)
        left, top = (2400 - width * scale) / 2, 70 + 1390 * at
        matrix = np.float32([[scale, 0.02, left], [-0.015, scale, top + 25], [0, 0, 1]])
        lay(picture, plate.picture, plate.mask, matrix)
        truths.append(truth_of(facts, wording, sheet))
    return _jpeg(picture), tuple(truths)


def forty_megapixels() -> bytes:
    """A real photo with more pixels than the shop takes."""
    small = cv2.imdecode(
        np.frombuffer(make_photo(seed=1, tier="easy", families="tune").jpeg, np.uint8),
        cv2.IMREAD_COLOR_RGB,
    )
    return _jpeg(cv2.resize(small, (7400, 5450), interpolation=cv2.INTER_LINEAR), 60)


def truncated() -> bytes:
    """The first part of a photo, as a broken line leaves it."""
    whole = make_photo(seed=2, tier="easy", families="tune").jpeg
    return whole[: len(whole) * 2 // 5]


def bomb() -> bytes:
    """A whole PNG of some 300 KB that unfolds to 2,500 megapixels."""
    row = b"\0" + b"\xff" * (BOMB_SIDE // 8)
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(row * 100) for _ in range(BOMB_SIDE // 100)) + packer.flush()
    return _png(packed)


def hollow_bomb() -> bytes:
    """A PNG that claims as many pixels and holds next to nothing."""
    return _png(zlib.compress(b"\0" * 64))


def _png(packed: bytes) -> bytes:
    header = struct.pack(">IIBBBBB", BOMB_SIDE, BOMB_SIDE, 1, 0, 0, 0, 0)
    parts = ((b"IHDR", header), (b"IDAT", packed), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        for kind, body in parts
    )


def polyglots() -> dict[str, bytes]:
    """Files that are two things at once, by what they are."""
    photo = make_photo(seed=3, tier="easy", families="tune").jpeg
    archive = BytesIO()
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("run.html", HTML)
    return {
        "a photo with an archive behind it": photo + archive.getvalue(),
        "a photo with a page behind it": photo + HTML,
        "a page that begins like a picture": b"GIF89a/*" + HTML,
        "a page with a photo behind it": HTML + photo,
    }
