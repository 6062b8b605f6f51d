"""Where in a piece a probe was, by its words: `resources/cuts/places.json`.

A temperature is asked of the middle. What was read at the skin, at an edge or in a pocket of air
says nothing of it, however hot it was (USDA FSIS: in the thickest part of the meat).
"""

import json
from functools import cache, lru_cache

from pitjournal.domain.cuts.words import plain, stems
from pitjournal.resource_files import resource_path


@lru_cache(maxsize=512)
def outside(place: str) -> str:
    """Return the word by which a place is not the middle of the meat; empty where none says so.

    Parameters
    ----------
    place
        As typed: "surface", "just under the skin", "thickest part, away from the bone".
    """
    known = _vocabulary()
    words = stems(place)
    text = f" {' '.join(words)} "
    phrase = next((one for one in known["phrases"] if f" {one} " in text), "")
    if phrase:
        return phrase
    said = [word for at, word in enumerate(words) if not _denied(words, at)]
    if any(word in known["middle"] for word in said):
        return ""
    return next((word for word in said if word in known["outside"]), "")


def _denied(words: list[str], at: int) -> bool:
    """Whether a word is denied before it: "away from the skin", "not touching the edge"."""
    known = _vocabulary()
    before = at - 1
    while before >= 0 and words[before] in known["between"] and words[before] not in known["not"]:
        before -= 1
    return before >= 0 and words[before] in known["not"]


@cache
def _vocabulary() -> dict[str, frozenset[str]]:
    kept = json.loads(resource_path("cuts/places.json").read_text("utf-8"))
    return {
        sort: frozenset(" ".join(stems(plain(word))) for word in kept[sort])
        for sort in ("outside", "phrases", "middle", "not", "between")
    }
