"""From bytes to text: which encoding, and whether it is text at all."""

import codecs

from pitjournal.errors import JournalError

_BOMS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
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
    b"SQLite",
    b"7z\xbc\xaf",
)
LONGEST_LINE = 20_000
"""Characters; no logger writes a longer row."""


def not_a_log(name: str, why: str) -> JournalError:
    """Return the one line that refuses a file."""
    return JournalError(
        f"{name} is not a temperature log that can be read: {why}.",
        "Choose the text file your logger wrote.",
    )


def decode(data: bytes, name: str) -> tuple[str, str]:
    """Return the text and the family of its encoding.

    Raises
    ------
    JournalError
        If the bytes are no text.
    """
    if not data.strip(b"\0 \t\r\n"):
        raise not_a_log(name, "it is empty")
    if data.startswith(_NOT_TEXT):
        raise not_a_log(name, "it holds no text")
    encoding = next((family for bom, family in _BOMS if data.startswith(bom)), "")
    if not encoding:
        encoding = _guess(data)
    data = data if encoding.startswith("utf-16") else data.rstrip(b"\0")
    try:
        text = data.decode(encoding, errors="strict" if encoding != "utf-16" else "ignore")
    except UnicodeDecodeError:
        encoding, text = "latin-1", data.decode("cp1252", errors="replace")
    text = text.rstrip("\0")
    head = text[:20_000]
    odd = sum(not (char.isprintable() or char in "\t\r\n\f") for char in head)
    if odd > 0.02 * len(head):
        raise not_a_log(name, "it holds no text")
    family = "utf-16" if encoding.startswith("utf-16") else encoding
    return text, family


def _guess(data: bytes) -> str:
    """Tell UTF-16 without a mark by its zero bytes; else try UTF-8."""
    head = data[:2000]
    if len(head) >= 8:
        for first, encoding in ((1, "utf-16-le"), (0, "utf-16-be")):
            if head[first::2].count(0) > 0.8 * len(head[first::2]):
                return encoding
    return "utf-8"
