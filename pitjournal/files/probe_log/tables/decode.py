"""From bytes to text: which encoding, and whether it is text at all."""

import codecs
import re
import unicodedata
from dataclasses import dataclass

from pitjournal.errors import JournalError

_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_NOT_TEXT = (
    b"\x89PNG",
    b"\xff\xd8\xff",
    b"GIF8",
    b"%PDF",
    b"\x1f\x8b",
    b"PK\x03\x04",
    b"PK\x05\x06",
    b"SQLite",
    b"7z\xbc\xaf",
    b"BZh",
    b"\xfd7zXZ",
    b"\x28\xb5\x2f\xfd",
    b"Rar!",
    b"\x7fELF",
    b"RIFF",
    b"OggS",
    b"ID3",
    b"II*\0",
    b"MM\0*",
    b"\xd0\xcf\x11\xe0",
)
_HEAD = 4_000
_NULS_AT_ENDS = re.compile(rb"(?:(?<=\n)|\A)\0+|\0+(?=\n|\Z)")
_DAMAGED = "\ufffd".encode()


@dataclass(frozen=True)
class Text:
    """A file's text as UTF-8 with LF line ends and without NULs, and its encoding's family."""

    data: bytes
    encoding: str


def not_a_log(name: str, why: str) -> JournalError:
    """Return the one line that refuses a file."""
    return JournalError(
        f"{name} is not a temperature log that can be read: {why}.",
        "Choose the file your logger wrote.",
    )


def decode(data: bytes, name: str) -> Text:
    """Return the text.

    Raises
    ------
    JournalError
        If the bytes are no text.
    """
    if not data[:_HEAD].strip(b"\0 \t\r\n") and not data.strip(b"\0 \t\r\n"):
        raise not_a_log(name, "it is empty")
    if data.startswith(_NOT_TEXT) or data[4:8] == b"ftyp":
        raise not_a_log(name, "it holds no text")
    encoding = next((family for bom, family in _BOMS if data.startswith(bom)), "")
    encoding = encoding or _guess(data)
    if encoding.startswith(("utf-16", "utf-32")):
        found = data.decode(encoding, errors="replace").strip("\0")
        text = found.encode("utf-8", errors="replace")
    else:
        encoding, text = _single_bytes(data.strip(b"\0"), encoding)
    _refuse_binary(text, name)
    return Text(_plain(text), encoding if encoding == "utf-8-sig" else _family(encoding))


def _family(encoding: str) -> str:
    return "utf-16" if encoding.startswith("utf-16") else encoding


def _guess(data: bytes) -> str:
    """Tell UTF-16 without a mark by its zero bytes; else try UTF-8."""
    head = data[:2000]
    if len(head) >= 8:
        for first, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):
            if head[first::2].count(0) > 0.8 * len(head[first::2]):
                return encoding
    return "utf-8"


def _single_bytes(data: bytes, encoding: str) -> tuple[str, bytes]:
    """Return UTF-8 text of UTF-8, or of Windows' Latin letters where it is none.

    A damaged letter or two do not make a file of UTF-8 another one.
    """
    if encoding == "utf-8-sig":
        data = data[len(codecs.BOM_UTF8) :]
    if data.isascii():
        return encoding, data
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        mended = data.decode("utf-8", errors="replace")
        damaged = mended.count("\ufffd")
        letters = sum(char > "\x7f" for char in mended) - damaged
        if encoding == "utf-8-sig" or letters >= damaged:
            return encoding, mended.encode("utf-8")
        return "latin-1", data.decode("cp1252", errors="replace").encode("utf-8")
    return encoding, data


def _refuse_binary(text: bytes, name: str) -> None:
    for begin in {0, max(0, len(text) // 2)}:
        part = text[begin : begin + _HEAD].decode("utf-8", errors="replace").strip("\0")
        odd = sum(
            not (char.isprintable() or char in "\t\r\n\f\0" or _is_space(char)) for char in part
        )
        if odd > 0.02 * len(part):
            raise not_a_log(name, "it holds no text")


def _is_space(char: str) -> bool:
    """Whether it is a space of any width, such as the one between thousands."""
    return unicodedata.category(char) == "Zs"


def _plain(text: bytes) -> bytes:
    """Return text with LF line ends, no NULs at a line's ends, and others marked as damage."""
    if b"\r" in text:
        text = text.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    if b"\0" in text:
        text = _NULS_AT_ENDS.sub(b"", text).replace(b"\0", _DAMAGED)
    return text
