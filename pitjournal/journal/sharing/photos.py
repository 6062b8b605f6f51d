"""Photos for a summary: small, upright, and without what the camera wrote into them."""

import io
from collections.abc import Callable

from PIL import Image, UnidentifiedImageError

from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.summary.content import SummaryPhoto

LONGEST = 900
"""The longer side at most, pixels."""


def photos_of(whole: WholeCook, attachment: Callable[[str], bytes]) -> tuple[SummaryPhoto, ...]:
    """Return the cook's photos from their kept thumbnails; one that is lost is left out."""
    found = []
    for photo in whole.photos:
        try:
            data = bare(attachment(photo.thumbnail))
        except JournalError:
            continue
        found.append(SummaryPhoto(photo.caption, "image/jpeg", data))
    return tuple(found)


def bare(data: bytes) -> bytes:
    """Return a picture's pixels alone as JPEG: no place, no device, no time.

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
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=85)
    return out.getvalue()
