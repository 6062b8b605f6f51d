"""Drawn pictures that stand for photos: meat on a grate, its colour by how far it is.

They are drawings and say so on their face.
"""

import io
from datetime import datetime

import numpy as np
from PIL import ExifTags, Image, ImageDraw, ImageFilter, ImageFont

WIDE, HIGH = 960, 640

Colour = tuple[int, int, int]

_CHAR: Colour = (38, 33, 30)
_ROD: Colour = (122, 116, 110)
_STAGES: dict[str, tuple[Colour, Colour]] = {
    "going on": ((196, 96, 84), (158, 70, 58)),
    "colour is set": ((136, 62, 36), (96, 40, 24)),
    "glazed": ((118, 40, 18), (74, 24, 12)),
    "off": ((88, 40, 24), (48, 24, 18)),
}
STAGES = tuple(_STAGES)
"""Stages that can be drawn."""


def draw_meat(stage: str, pieces: int, taken_at: datetime, lot: np.random.Generator) -> bytes:
    """Return a JPEG of some pieces on a grate.

    Parameters
    ----------
    stage
        One of `STAGES`.
    pieces
        How many are drawn; 4 at most.
    taken_at
        Local time without a zone, as a camera writes it into the file.
    lot
        Where the spots come from.
    """
    picture = Image.new("RGB", (WIDE, HIGH), _CHAR)
    pen = ImageDraw.Draw(picture)
    for x in range(20, WIDE, 52):
        pen.rectangle((x, 0, x + 9, HIGH), fill=_ROD)
    count = min(pieces, 4)
    tall = (HIGH - 90) // count
    for place in range(count):
        top = 30 + place * tall
        _one(picture, (70, top, WIDE - 70, top + tall - 24), _STAGES[stage], lot)
    picture = picture.filter(ImageFilter.GaussianBlur(1.2))
    words = f"A drawing, no photo: {stage}"
    pen = ImageDraw.Draw(picture)
    pen.text((24, HIGH - 40), words, fill=(245, 240, 230), font=ImageFont.load_default(24))
    return _jpeg(picture, taken_at)


def _one(
    picture: Image.Image,
    box: tuple[int, int, int, int],
    colours: tuple[Colour, Colour],
    lot: np.random.Generator,
) -> None:
    """Draw one piece: a rounded slab with ribs across it and darker spots."""
    body, dark = colours
    left, top, right, bottom = box
    pen = ImageDraw.Draw(picture)
    pen.rounded_rectangle(box, radius=(bottom - top) // 3, fill=body)
    for x in range(left + 60, right - 40, 78):
        pen.line((x, top + 14, x + 18, bottom - 14), fill=dark, width=7)
    spots = lot.uniform((left + 20, top + 10), (right - 20, bottom - 10), (90, 2))
    for x, y in spots:
        size = float(lot.uniform(2, 8))
        pen.ellipse((x - size, y - size / 2, x + size, y + size / 2), fill=dark)


def _jpeg(picture: Image.Image, taken_at: datetime) -> bytes:
    exif = Image.Exif()
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    inner[ExifTags.Base.DateTimeOriginal] = taken_at.strftime("%Y:%m:%d %H:%M:%S")
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=80, exif=exif)
    return out.getvalue()
