"""What is put right in a printed PDF: its photos as they are, and no time of writing.

Qt packs a picture anew as JPEG, at a quality that doubles its bytes and adds nothing: what was
lost when the photo was made small stays lost. A PDF takes JPEG data as it is (ISO 32000-1, 7.4.8).
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

_PICTURE = re.compile(rb"/Subtype /Image\n/Width (\d+)\n/Height (\d+)\n([^>]{1,200})>>\nstream\n")
_LENGTH = re.compile(rb"/Length (\d+) 0 R\n")
_ENTRY = re.compile(rb"(\d{10}) (\d{5}) n")
_TABLE = re.compile(rb"startxref\n(\d+)")


@dataclass(frozen=True)
class JpegPhoto:
    """A photo as it is to stand in the file: its JPEG, and its size in pixels."""

    data: bytes
    width: int
    height: int


@dataclass(frozen=True)
class _Change:
    start: int
    end: int
    new: bytes


def with_photos(pdf: bytes, photos: Sequence[JpegPhoto]) -> bytes:
    """Return a PDF with these photos as they are, where that makes it smaller.

    Parameters
    ----------
    pdf
        As Qt writes it: pictures in the order they were drawn, one table of places.
    photos
        All pictures that were drawn, in that order, in three colours. Where the file does not
        have just these, it is returned as it came.
    """
    found = list(_PICTURE.finditer(pdf))
    sizes = [(int(one[1]), int(one[2])) for one in found]
    if sizes != [(photo.width, photo.height) for photo in photos]:
        return pdf
    changes: list[_Change] = []
    for place, photo in zip(found, photos, strict=True):
        changes += _change(pdf, place, photo.data)
    return _moved(pdf, changes) if changes else pdf


def _change(pdf: bytes, place: re.Match[bytes], data: bytes) -> list[_Change]:
    """Return what takes a picture's place: its bytes, and how many they are."""
    length = _LENGTH.search(place[3])
    if length is None or b"/DCTDecode" not in place[3]:
        return []
    told = re.compile(rb"\n%b 0 obj\n(\d+)\nendobj" % length[1]).search(pdf, place.end())
    if told is None:
        return []
    size, start = int(told[1]), place.end()
    whole = pdf.startswith(b"\nendstream", start + size)
    if not whole or len(data) >= size:
        return []
    number = b"%d" % len(data)
    return [
        _Change(start, start + size, data),
        _Change(*told.span(1), number.ljust(len(told[1]))),  # as wide: nothing moves for it
    ]


def _moved(pdf: bytes, changes: Sequence[_Change]) -> bytes:
    """Return the file with changes made, and each object found where it lies now."""
    table = int(_TABLE.findall(pdf)[-1])

    def now(place: int) -> int:
        before = (one for one in changes if one.end <= place)
        return place + sum(len(one.new) - (one.end - one.start) for one in before)

    def entry(found: re.Match[bytes]) -> bytes:
        return b"%010d %b n" % (now(int(found[1])), found[2])

    parts, at = [], 0
    for one in sorted(changes, key=lambda change: change.start):
        parts += [pdf[at : one.start], one.new]
        at = one.end
    parts.append(pdf[at:table])
    tail = _ENTRY.sub(entry, pdf[table:])
    parts.append(_TABLE.sub(b"startxref\n%d" % now(table), tail))
    return b"".join(parts)


_WRITTEN_AT = re.compile(rb"(\(D:\d{8})\d{6}(Z|[+-]\d\d'\d\d')")
_WRITTEN_AT_XMP = re.compile(rb"(Date=\"\d{4}-\d\d-\d\dT)\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)")


def without_clock(pdf: bytes) -> bytes:
    """Return a PDF that tells the day it was written, not the time, nor the zone of this computer.

    Clock times leave only where they are chosen, and Qt writes them beside the pages. Nothing
    moves within the file (ISO 32000-1, 7.9.4: a date's parts have a fixed length).
    """

    def midnight(found: re.Match[bytes]) -> bytes:
        return found[1] + b"000000" + (b"Z" if found[2] == b"Z" else b"+00'00'")

    def midnight_xmp(found: re.Match[bytes]) -> bytes:
        return found[1] + b"00:00:00" + (b"Z" if found[2] == b"Z" else b"+00:00")

    return _WRITTEN_AT_XMP.sub(midnight_xmp, _WRITTEN_AT.sub(midnight, pdf))
