"""Photos for a summary: small, upright, and without what the camera wrote into them."""

import io
from collections.abc import Callable

from PIL import Image, UnidentifiedImageError

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.summary.content import SummaryPhoto

LONGEST = 900
"""The longer side at most, pixels."""

ALL = 1_400_000
"""Bytes of all photos of a summary together: a mail takes that, also in HTML, a third more."""

LEAST = 20_000
"""No photo is squeezed into fewer bytes, however many there are."""

QUALITIES = (85, 75, 65, 55)
SMALLER, SMALLEST = 0.8, 160


def photos_of(whole: WholeCook, attachment: Callable[[str], bytes]) -> tuple[SummaryPhoto, ...]:
    """Return the cook's photos from their kept thumbnails; one that is lost is left out."""
    share = max(ALL // max(len(whole.photos), 1), LEAST)
    found = []
    for photo in whole.photos:
        try:
            data = bare(attachment(photo.thumbnail), share)
        except JournalError:
            continue
        found.append(SummaryPhoto(photo.caption, "image/jpeg", data))
    return tuple(found)


def bare(data: bytes, most: int = ALL) -> bytes:
    """Return a picture's pixels alone as JPEG: no place, no device, no time.

    Parameters
    ----------
    data
        The picture.
    most
        The bytes it may take: it is packed closer, then made smaller, until it fits.

    Raises
    ------
    JournalError
        If it is no picture.
    """
    try:
        with Image.open(io.BytesIO(data)) as picture:
            pixels = picture.convert("RGB")
    except (UnidentifiedImageError, OSError) as error:
        raise JournalError("A kept photo cannot be read.", "Copy it from a backup.") from error
    pixels.thumbnail((LONGEST, LONGEST))
    clean = Image.new("RGB", pixels.size)
    clean.paste(pixels)
    while True:
        for quality in QUALITIES:
            packed = _packed(clean, quality)
            if len(packed) <= most:
                return packed
        if max(clean.size) <= SMALLEST:
            return packed
        side = max(round(max(clean.size) * SMALLER), SMALLEST)
        clean.thumbnail((side, side))


def _packed(picture: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue()
