"""Where in a piece a probe was, by its words: `resources/cuts/places.json`.

A temperature is asked of the middle. What was read at the skin, at an edge or in a pocket of air
says nothing of it, however hot it was (USDA FSIS: in the thickest part of the meat).
"""

import json
from functools import cache, lru_cache

from pitjournal.domain.cuts.words import denied, stems
from pitjournal.resource_files import resource_path


@lru_cache(maxsize=512)
def outside(place: str) -> bool:
    """Whether the words of a place say that it is not the middle of the meat.

    Parameters
    ----------
    place
        As typed: "surface", "just under the skin", "thickest part, away from the bone".
    """
    known = _vocabulary()
    words = stems(place)
    text = f" {' '.join(words)} "
    if any(f" {phrase} " in text for phrase in known["phrases"]):
        return True
    said = {
        word
        for at, word in enumerate(words)
        if not denied(words, at, known["not"], known["between"])
    }
    return said.isdisjoint(known["middle"]) and not said.isdisjoint(known["outside"])


@cache
def _vocabulary() -> dict[str, frozenset[str]]:
    kept = json.loads(resource_path("cuts/places.json").read_text("utf-8"))
    return {
        sort: frozenset(" ".join(stems(word)) for word in kept[sort])
        for sort in ("outside", "phrases", "middle", "not", "between")
    }
