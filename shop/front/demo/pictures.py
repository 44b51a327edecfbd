"""Drawn pictures of the invented machines: a plate with its figures, and a plain outline."""

from functools import cache
from io import BytesIO

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, ImageDraw, ImageFont

GREY, INK, WALL, FLOOR, STEEL, BELT = (
    "#c9cdcb",
    "#1d2529",
    "#e9e4d8",
    "#b9ae9a",
    "#5b6b73",
    "#23292c",
)


def plate(maker: str, number: str, serial: str, supply: str) -> SimpleUploadedFile:
    picture = Image.new("RGB", (900, 520), WALL)
    draw = ImageDraw.Draw(picture)
    draw.rounded_rectangle((60, 50, 840, 470), 22, fill=GREY, outline=STEEL, width=6)
    for x in (95, 805):
        draw.ellipse((x - 11, 249, x + 11, 271), fill=STEEL)
    big, small = ImageFont.load_default(64), ImageFont.load_default(38)
    draw.text((140, 80), maker.upper(), font=big, fill=INK)
    lines = [f"MODEL  {number}", f"SERIAL NO.  {serial}", f"SUPPLY  {supply or 'none'}"]
    for row, line in enumerate(lines):
        draw.text((140, 200 + row * 72), line, font=small, fill=INK)
    return _upload(picture, "plate.jpg")


def paper(title: str, lines: list[str]) -> SimpleUploadedFile:
    """A page of a few boxes as a PDF."""
    page = Image.new("RGB", (1240, 877), "white")
    draw = ImageDraw.Draw(page)
    draw.text((80, 60), title, font=ImageFont.load_default(44), fill=INK)
    for row, line in enumerate(lines):
        draw.rectangle((80, 180 + row * 120, 1160, 260 + row * 120), outline=STEEL, width=4)
        draw.text((110, 200 + row * 120), line, font=ImageFont.load_default(34), fill=INK)
    drawn = BytesIO()
    page.save(drawn, "PDF")
    return SimpleUploadedFile(f"{title}.pdf", drawn.getvalue(), content_type="application/pdf")


def machine(kind: str) -> SimpleUploadedFile:
    return SimpleUploadedFile(f"{kind}.jpg", _outline(kind), content_type="image/jpeg")


@cache
def _outline(kind: str) -> bytes:
    picture = Image.new("RGB", (960, 720), WALL)
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 520, 960, 720), fill=FLOOR)
    SHAPES.get(kind, _frame)(draw)
    return _upload(picture, "x.jpg").read()


def _treadmill(draw) -> None:
    draw.rounded_rectangle((140, 560, 820, 620), 18, fill=STEEL)
    draw.rectangle((200, 548, 760, 566), fill=BELT)
    draw.line((740, 560, 660, 250), fill=STEEL, width=26)
    draw.rounded_rectangle((560, 200, 700, 270), 14, fill=INK)
    draw.line((660, 330, 500, 350), fill=STEEL, width=18)


def _wheeled(draw) -> None:
    draw.ellipse((180, 330, 460, 610), outline=STEEL, width=34)
    draw.line((320, 470, 640, 470), fill=STEEL, width=24)
    draw.line((640, 620, 600, 300), fill=STEEL, width=22)
    draw.rounded_rectangle((540, 270, 680, 305), 14, fill=INK)
    draw.line((320, 470, 300, 230), fill=STEEL, width=18)
    draw.rounded_rectangle((240, 190, 350, 240), 10, fill=INK)
    draw.line((220, 620, 740, 620), fill=STEEL, width=20)


def _rower(draw) -> None:
    draw.line((130, 590, 830, 560), fill=STEEL, width=22)
    draw.ellipse((120, 400, 300, 580), outline=STEEL, width=26)
    draw.rounded_rectangle((540, 520, 660, 550), 10, fill=INK)
    draw.line((300, 480, 480, 500), fill=BELT, width=6)


def _frame(draw) -> None:
    draw.rectangle((250, 150, 710, 620), outline=STEEL, width=24)
    for row in range(8):
        draw.rectangle((560, 300 + row * 36, 680, 330 + row * 36), fill=INK)
    draw.line((620, 170, 620, 300), fill=BELT, width=6)
    draw.rounded_rectangle((300, 470, 500, 510), 10, fill=INK)


SHAPES = {
    "treadmill": _treadmill,
    "rower": _rower,
    "strength-machine": _frame,
    "stair-climber": _treadmill,
    "elliptical": _wheeled,
    "upright-bike": _wheeled,
    "recumbent-bike": _wheeled,
    "indoor-cycle": _wheeled,
}


def _upload(picture: Image.Image, name: str) -> SimpleUploadedFile:
    drawn = BytesIO()
    picture.save(drawn, "JPEG", quality=85)
    return SimpleUploadedFile(name, drawn.getvalue(), content_type="image/jpeg")
