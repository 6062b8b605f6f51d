"""Photos: turned upright, small, dated; anything else refused in one line."""

import io
import struct
import subprocess
import sys
import warnings
import zlib
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import ExifTags, Image

from pitjournal.errors import JournalError
from pitjournal.files.photos import MOST_PIXELS, THUMBNAIL, read_photo

WIDE, HIGH = 160, 96

PICTURES = Path(__file__).parent / "pictures"

SIDES = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}
"""Orientation tag 274: which side of the picture as seen the 0th row and the 0th column of the
stored one are. Exif 2.3 (JEITA CP-3451), table of tag 274, and TIFF 6.0, section 8; from memory.
"""


def picture() -> NDArray[np.uint8]:
    """Return a picture whose four corners differ: red, green / blue, white."""
    pixels = np.zeros((HIGH, WIDE, 3), dtype=np.uint8)
    pixels[: HIGH // 2, : WIDE // 2] = (255, 0, 0)
    pixels[: HIGH // 2, WIDE // 2 :] = (0, 255, 0)
    pixels[HIGH // 2 :, : WIDE // 2] = (0, 0, 255)
    pixels[HIGH // 2 :, WIDE // 2 :] = (255, 255, 255)
    return pixels


def stored(orientation: int) -> NDArray[np.uint8]:
    """Return the picture as a camera stores it under an orientation, by the words of the table."""
    first_row, first_column = SIDES[orientation]
    seen = picture()
    if "bottom" in (first_row, first_column):
        seen = seen[::-1]
    if "right" in (first_row, first_column):
        seen = seen[:, ::-1]
    on_its_side = first_row in {"left", "right"}
    return np.ascontiguousarray(seen.transpose(1, 0, 2) if on_its_side else seen)


def as_bytes(image: Image.Image, kind: str = "JPEG", exif: Image.Exif | None = None) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, exif=(Image.Exif() if exif is None else exif).tobytes())
    return out.getvalue()


def corners(jpeg: bytes) -> list[tuple[int, ...]]:
    """Return which channels are bright in the four quarters of a picture."""
    with Image.open(io.BytesIO(jpeg)) as image:
        pixels = np.asarray(image.convert("RGB"), dtype=float)
    high, wide = pixels.shape[:2]
    places = [(high // 4, wide // 4), (high // 4, 3 * wide // 4)]
    places += [(3 * high // 4, wide // 4), (3 * high // 4, 3 * wide // 4)]
    return [tuple(int(value > 128) for value in pixels[y, x]) for y, x in places]


@pytest.mark.parametrize("orientation", SIDES)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_that_every_orientation_is_turned_upright(orientation: int, kind: str) -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = orientation
    photo = read_photo(as_bytes(Image.fromarray(stored(orientation)), kind, exif), "photo")
    assert (photo.width, photo.height) == (WIDE, HIGH)
    assert corners(photo.thumbnail) == [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 1)]


def test_that_a_heic_photo_is_read() -> None:
    photo = read_photo((PICTURES / "upright.heic").read_bytes(), "phone.heic")
    assert (photo.width, photo.height) == (WIDE, HIGH)
    assert photo.media_type == "image/heif"
    assert corners(photo.thumbnail) == [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 1)]


def test_that_a_turned_heic_photo_is_turned_once() -> None:
    photo = read_photo((PICTURES / "turned.heic").read_bytes(), "phone.heic")
    assert (photo.width, photo.height) == (WIDE, HIGH)
    assert corners(photo.thumbnail) == [(1, 0, 0), (0, 1, 0), (0, 0, 1), (1, 1, 1)]


def test_that_the_small_picture_is_small_and_the_size_is_that_of_the_whole() -> None:
    photo = read_photo(as_bytes(Image.new("RGB", (3000, 2001), "brown")), "large.jpg")
    assert (photo.width, photo.height) == (3000, 2001)
    with Image.open(io.BytesIO(photo.thumbnail)) as small:
        assert small.format == "JPEG"
        assert small.size == (THUMBNAIL, 320)


def test_that_a_picture_smaller_than_the_small_one_is_not_blown_up() -> None:
    photo = read_photo(as_bytes(Image.new("RGB", (40, 30))), "tiny.jpg")
    with Image.open(io.BytesIO(photo.thumbnail)) as small:
        assert small.size == (40, 30)


def dated(original: str = "", digitized: str = "", changed: str = "") -> bytes:
    exif = Image.Exif()
    if changed:
        exif[ExifTags.Base.DateTime] = changed
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    if original:
        inner[ExifTags.Base.DateTimeOriginal] = original
    if digitized:
        inner[ExifTags.Base.DateTimeDigitized] = digitized
    return as_bytes(Image.new("RGB", (8, 8)), "JPEG", exif)


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (dated("2026:05:02 12:30:15"), datetime(2026, 5, 2, 12, 30, 15)),  # noqa: DTZ001 - a camera knows no zone
        (dated("", "2026:05:02 12:30:15"), datetime(2026, 5, 2, 12, 30, 15)),  # noqa: DTZ001 - a camera knows no zone
        (dated("", "", "2026:05:02 12:30:15"), datetime(2026, 5, 2, 12, 30, 15)),  # noqa: DTZ001 - a camera knows no zone
        (
            dated("2026:05:02 12:30:15", changed="2026:06:01 00:00:00"),
            datetime(2026, 5, 2, 12, 30, 15),  # noqa: DTZ001 - a camera knows no zone
        ),
        (dated("    :  :     :  :  "), None),
        (dated("0000:00:00 00:00:00"), None),
        (dated(), None),
    ],
)
def test_that_the_time_is_when_the_photo_was_taken(data: bytes, expected: datetime | None) -> None:
    # Exif 2.3: DateTimeOriginal is when it was taken, "YYYY:MM:DD HH:MM:SS"; blanks are unknown
    assert read_photo(data, "photo.jpg").taken_at == expected


def test_that_the_small_picture_forgets_what_the_camera_wrote() -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Model] = "a telling name"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (51.0, 30.0, 0.0)
    photo = read_photo(as_bytes(Image.new("RGB", (600, 400)), "JPEG", exif), "photo.jpg")
    with Image.open(io.BytesIO(photo.thumbnail)) as small:
        assert not dict(small.getexif())
    assert b"telling" not in photo.thumbnail


def test_that_damaged_exif_does_not_hide_a_good_picture() -> None:
    whole = as_bytes(Image.fromarray(picture()), "JPEG", _with_orientation())
    start = whole.index(b"Exif\0\0") + 6
    broken = whole[:start] + b"\xff" * 8 + whole[start + 8 :]
    photo = read_photo(broken, "photo.jpg")
    assert (photo.width, photo.height, photo.taken_at) == (WIDE, HIGH, None)


def _with_orientation() -> Image.Exif:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 1
    return exif


def test_that_what_is_see_through_shows_white() -> None:
    photo = read_photo(as_bytes(Image.new("RGBA", (32, 32), (255, 0, 0, 0)), "PNG"), "clear.png")
    assert corners(photo.thumbnail) == [(1, 1, 1)] * 4


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "I;16", "CMYK"])
def test_that_pictures_of_other_modes_are_read(mode: str) -> None:
    kind = "TIFF" if mode == "CMYK" else "PNG"
    photo = read_photo(as_bytes(Image.new(mode, (20, 10)), kind), "old.png")
    assert (photo.width, photo.height) == (20, 10)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"Time,Probe 1\n2026-05-02,120\n",
        b"%PDF-1.7\n",
        b"PK\x03\x04" + bytes(60),
        b"\x89PNG\r\n\x1a\n" + bytes(80),
        b"\0\0\0\x18ftypheic" + bytes(40),
        b"II*\0" + b"\xff" * 40,
    ],
)
def test_that_what_is_no_picture_is_refused_with_its_name(data: bytes) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with pytest.raises(JournalError, match=r"IMG_2041\.jpg"):
            read_photo(data, "IMG_2041.jpg")


def test_that_no_picture_is_also_refused_before_the_first_heic_was_read() -> None:
    script = """
from pitjournal.errors import JournalError
from pitjournal.files.photos import read_photo
try:
    read_photo(b"flip at two", "notes.txt")
except JournalError as error:
    print(error.message)
"""
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout == "notes.txt is not a picture that can be read.\n"


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_that_a_picture_cut_off_is_refused(kind: str) -> None:
    noise = np.random.default_rng(1).integers(0, 255, (200, 200, 3), dtype=np.uint8)
    whole = as_bytes(Image.fromarray(noise), kind)
    with pytest.raises(JournalError, match="cut off"):
        read_photo(whole[: len(whole) // 2], "half")


def png_claiming(width: int, height: int) -> bytes:
    """Return a PNG of a few bytes whose head claims a size (PNG specification, 11.2.2)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        sum_ = struct.pack(">I", zlib.crc32(kind + body))
        return struct.pack(">I", len(body)) + kind + body + sum_

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return (
        b"\x89PNG\r\n\x1a\n"
        + head
        + chunk(b"IDAT", zlib.compress(b"\0" * 64))
        + chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("side", [10_000, 40_000])
def test_that_a_small_file_that_would_unpack_huge_is_refused(side: int) -> None:
    assert side * side > MOST_PIXELS
    with pytest.raises(JournalError, match="too many pixels"):
        read_photo(png_claiming(side, side), "bomb.png")
