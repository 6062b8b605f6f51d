"""Read a photo: turned upright, with a small picture of it and the time it was taken.

Bytes in, a report out; nothing is kept here. Pillow reads the picture, pi-heif those of
phones that write HEIC; it loads when the first such photo comes.
"""

import io
import struct
import warnings
from dataclasses import dataclass
from datetime import datetime

from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

from pitjournal.errors import JournalError

THUMBNAIL = 480
"""The longer side of the small picture, pixels."""

MOST_PIXELS = 89_000_000
"""A picture that must be unpacked whole may have as many; JPEG, which need not, twice that."""

_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
_TIMES = (ExifTags.Base.DateTimeOriginal, ExifTags.Base.DateTimeDigitized)
_ON_ITS_SIDE = {5, 6, 7, 8}
"""Exif 2.3 (JEITA CP-3451), orientation: the first row is a side of the picture."""
_BROKEN_EXIF = (KeyError, OSError, SyntaxError, TypeError, ValueError, struct.error)
_BROKEN_IMAGE = (*_BROKEN_EXIF, AttributeError, EOFError, IndexError, OverflowError)


@dataclass(frozen=True, eq=False)
class PhotoRead:
    """What a photo holds.

    Attributes
    ----------
    width, height
        Pixels of the whole picture when upright.
    taken_at
        When it was taken by the camera's own clock, without a zone; None if it does not say.
    thumbnail
        A JPEG, upright, at most 480 pixels long, without anything the camera wrote into it.
    media_type
        Of the file as it came, such as ``"image/png"``.
    """

    width: int
    height: int
    taken_at: datetime | None
    thumbnail: bytes
    media_type: str


def read_photo(data: bytes, name: str) -> PhotoRead:
    """Read a photo.

    Parameters
    ----------
    data
        The file's bytes: JPEG, PNG, HEIC, WebP, TIFF, BMP or GIF.
    name
        The file's name, for what is said when it cannot be read.

    Raises
    ------
    JournalError
        If it is no picture, is damaged, or is too large to unpack.
    """
    formats = _formats(data)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # damaged EXIF; a large JPEG: both are dealt with below
        try:
            with Image.open(io.BytesIO(data), formats=formats) as image:
                return _read(image, name)
        except Image.DecompressionBombError as error:
            raise _too_large(name) from error
        except UnidentifiedImageError as error:
            raise _unreadable(name) from error
        except _BROKEN_IMAGE as error:
            raise _damaged(name) from error


def _formats(data: bytes) -> tuple[str, ...]:
    if data[4:8] != b"ftyp":  # the box that begins HEIC (ISO/IEC 14496-12)
        return _FORMATS
    import pi_heif  # noqa: PLC0415 - its library loads only for such a photo

    pi_heif.register_heif_opener()
    return ("HEIF",)


def _read(image: Image.Image, name: str) -> PhotoRead:
    jpeg = image.format in {"JPEG", "MPO"}
    if not jpeg and image.width * image.height > MOST_PIXELS:
        raise _too_large(name)
    media_type = "image/jpeg" if jpeg else Image.MIME.get(image.format or "", "image")
    taken_at = _taken_at(image)
    size = image.size[::-1] if _lies_on_its_side(image) else image.size
    image.draft("RGB", (2 * THUMBNAIL, 2 * THUMBNAIL))  # JPEG is unpacked at a fraction
    image.load()
    turned = _upright(image)
    if not jpeg:
        size = turned.size
    return PhotoRead(*size, taken_at, _thumbnail(turned), media_type)


def _lies_on_its_side(image: Image.Image) -> bool:
    try:
        return image.getexif().get(ExifTags.Base.Orientation) in _ON_ITS_SIDE
    except _BROKEN_EXIF:
        return False


def _upright(image: Image.Image) -> Image.Image:
    try:
        return ImageOps.exif_transpose(image)
    except _BROKEN_EXIF:
        return image


def _thumbnail(image: Image.Image) -> bytes:
    profile = image.info.get("icc_profile") if image.mode == "RGB" else None
    plain = _plain(image)
    plain.thumbnail((THUMBNAIL, THUMBNAIL))
    plain.info = {}
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=82, optimize=True, icc_profile=profile)
    return out.getvalue()


def _plain(image: Image.Image) -> Image.Image:
    """Return RGB; what is see-through shows white, as on paper."""
    if not image.has_transparency_data:
        return image.convert("RGB")
    over = image.convert("RGBA")
    paper = Image.new("RGBA", over.size, "white")
    return Image.alpha_composite(paper, over).convert("RGB")


def _taken_at(image: Image.Image) -> datetime | None:
    try:
        exif = image.getexif()
        inner = exif.get_ifd(ExifTags.IFD.Exif)
        texts = [*(inner.get(tag) for tag in _TIMES), exif.get(ExifTags.Base.DateTime)]
    except _BROKEN_EXIF:
        return None
    return next((found for found in map(_exif_time, texts) if found is not None), None)


def _exif_time(text: object) -> datetime | None:
    """Read ``2026:05:02 12:30:00``; blanks or zeros mean that the camera did not know."""
    try:
        return datetime.strptime(str(text).strip("\0 "), "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007 - a camera knows no zone
    except ValueError:
        return None


def _unreadable(name: str) -> JournalError:
    return JournalError(f"{name} is not a picture that can be read.", "Save it as JPEG or PNG.")


def _damaged(name: str) -> JournalError:
    return JournalError(f"{name} is damaged or cut off.", "Copy it from the camera again.")


def _too_large(name: str) -> JournalError:
    return JournalError(f"{name} has too many pixels.", "Save it smaller and add that.")
