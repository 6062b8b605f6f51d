"""The words of a sentence, and where each stands."""

from collections.abc import Iterator
from dataclasses import dataclass

OPENS, CLOSES = '"“”', '"“”'


@dataclass(frozen=True)
class Word:
    """A word, a comma, or what stands in quotes: characters `start` to `end` of the sentence."""

    text: str
    start: int
    end: int
    quoted: bool = False


def words_of(text: str) -> list[Word]:
    """Return the words of a sentence; a quote inside quotes is written twice."""
    return list(_words(text))


def _words(text: str) -> Iterator[Word]:
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
        elif text[at] in OPENS:
            word = _quoted(text, at)
            yield word
            at = word.end
        elif text[at] == "," and text[at + 1 : at + 2].strip() == "":
            yield Word(",", at, at + 1)
            at += 1
        else:
            end = at
            while end < len(text) and not text[end].isspace() and not _ends(text, end):
                end += 1
            yield Word(text[at:end], at, end)
            at = end


def _ends(text: str, at: int) -> bool:
    """Whether a comma stands here that is none of a number."""
    return text[at] == "," and text[at + 1 : at + 2].strip() == ""


def _quoted(text: str, start: int) -> Word:
    """Return what stands in quotes; where they are not closed, all that follows."""
    said: list[str] = []
    at = start + 1
    while at < len(text):
        if text[at] in CLOSES:
            if text[at + 1 : at + 2] != text[at]:
                return Word("".join(said), start, at + 1, quoted=True)
            at += 1
        said.append(text[at])
        at += 1
    return Word("".join(said), start, len(text), quoted=True)


def in_quotes(text: str) -> str:
    """Return a text in quotes, as `words_of` reads it back."""
    doubled = "".join(sign * 2 if sign in CLOSES else sign for sign in text)
    return f'"{doubled}"'
