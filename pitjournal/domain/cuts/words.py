"""What the words of a cut say, in whatever way they are written: `resources/cuts/words.json`.

A text becomes atoms: what it is about, whatever its language, case, plural, accents, hyphens
and order. An animal is an atom with an @ before it ("Schwein", "hog" and "pork" are "@pork"),
beside the word as written, for cuts that are called so ("whole hog").
"""

import json
import re
import string
import unicodedata
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any

from pitjournal.domain.cuts.meat import GAME, POULTRY, Animal
from pitjournal.resource_files import resource_path

SHORTEST_TYPO = 5
"""What is shorter than this once put right could be too many other words."""

SHORTEST_COMPOUND = 4
"""An animal's word as long as this may begin a compound ("Schweinenacken")."""

LONGEST_WORD = 60
"""Letters: what is longer is no word of any language here, and to look for two in it takes long."""

_DIGRAPHS = {"ä": "ae", "ö": "oe", "ü": "ue"}
_POSSESSIVE = re.compile(r"['\u2019\u02bc]s\b")
UN = re.compile(r"\b(un|non|nicht)-(?=[a-z])")
"""What denies the word it is joined to: "un-needled"."""
_FRIED = re.compile(r"\b(?:chicken|country)[\s-]+fried(?=[\s-]+(?:\w+[\s-]+)?steak)")
"""A coated steak of beef, most often cubed: fried as chicken is, but none."""
_HALF = re.compile(r"(?<![0-9\s])\s*\b1[/\u2044]2\b")
_APART = re.compile(r"[^0-9a-z]+")


@dataclass(frozen=True)
class Words:
    """The vocabulary, by stem.

    Attributes
    ----------
    atoms
        What a word is about.
    fillers
        Words that say nothing about the meat.
    parts
        Atoms that any animal has: they alone do not say of which.
    forms
        The form that an atom says: ground, non-intact, stuffed.
    endings
        What the end of a word says ("Leberwurst" is a sausage).
    of_any
        Parts that a bird or game has too: alone they do not say what they are judged by.
    wild
        Words that make any animal game, but those of the water.
    of_one
        Breeds of one animal that is no bird and no game.
    negations
        Words that take back the treatment named after them: "not injected".
    inside, inside_cuts
        Words for what lies inside, and the cuts that are called so ("inside round").
    under
        What makes marinating carry the surface inside: pressure, vacuum.
    filled_with
        What a roast is filled with, by the words before it that say so: "with dressing".
    """

    atoms: Mapping[str, frozenset[str]]
    fillers: frozenset[str]
    parts: frozenset[str]
    forms: Mapping[str, str]
    endings: Mapping[str, str]
    of_any: frozenset[str]
    wild: frozenset[str]
    of_one: frozenset[str]
    negations: frozenset[str]
    inside: frozenset[str]
    inside_cuts: frozenset[str]
    under: Mapping[str, frozenset[str]]
    filled_with: Mapping[str, frozenset[str]]


@dataclass(frozen=True)
class Meaning:
    """What a text says: its atoms, and the words that nobody knows."""

    atoms: frozenset[str]
    unknown: tuple[str, ...]


def plain(text: str) -> str:
    """Return a text in small letters without accents."""
    if text.isascii():  # has none; a long note is looked at for each piece of its cook
        return text.casefold()
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def stem(word: str) -> str:
    """Return a plain word without its English plural."""
    if word.endswith("ies") and len(word) > 4:
        return f"{word[:-3]}y"
    one = word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 2 else word
    return one[:-1] if one.endswith(("che", "she", "xe", "sse")) else one


def stems(text: str) -> list[str]:
    """Return the stems of a text's words, without numbers and single letters."""
    small = UN.sub("not ", plain(_POSSESSIVE.sub("", text)))
    small = _FRIED.sub("countryfried", small)
    words = _APART.split(_HALF.sub(" half ", small))
    return [stem(word) for word in words if len(word) > 1 and not word[0].isdigit()]


def denied(
    words: Sequence[str], at: int, negations: Container[str], between: Container[str]
) -> bool:
    """Whether the word before denies the one at a place, over words that may stand between.

    "not injected", "has not been injected", "away from the skin".
    """
    before = at - 1
    while before >= 0 and words[before] in between:
        before -= 1
    return before >= 0 and words[before] in negations


def _spellings(word: str) -> Iterator[str]:
    """Yield the stems a word of the file may have: also with ae, oe and ue."""
    yield from stems(word)
    small = word.casefold()
    for umlaut, two in _DIGRAPHS.items():
        small = small.replace(umlaut, two)
    yield from stems(small)


@cache
def read_words() -> Words:
    """Return the vocabulary without the cuts' own words."""
    kept: dict[str, Any] = json.loads(resource_path("cuts/words.json").read_text("utf-8"))
    atoms: dict[str, frozenset[str]] = {}

    def add(words: Iterable[str], *said: str) -> None:
        for word in words:
            for one in _spellings(word):
                atoms[one] = atoms.get(one, frozenset()) | {*said}

    for animal, words in kept["animals"].items():
        for word in words:
            add([word], f"@{animal}", f"={stems(word)[0]}")
    for part, words in kept["parts"].items():
        add([part, *words], part)
    for one, words in kept["same"].items():
        add([one, *words], stem(one))
    fillers = {one for word in (*kept["filler"], *kept["wild"]) for one in _spellings(word)}
    forms = {stem(word): form for form, words in kept["forms"].items() for word in words}
    return Words(
        {one: found | {one} if one in fillers else found for one, found in atoms.items()},
        frozenset(fillers),
        frozenset(stem(part) for part in kept["parts"]),
        forms,
        kept["endings"],
        _stemmed(kept["of_any"]),
        _stemmed(kept["wild"]),
        _stemmed(kept["of_one"]),
        _stemmed(kept["negations"]),
        _stemmed(kept["inside"]["words"]),
        _stemmed(kept["inside"]["cuts"]),
        {stem(word): _stemmed(words) for word, words in kept["under"].items()},
        {stem(word): _stemmed(words) for word, words in kept["with"].items()},
    )


def _stemmed(words: Iterable[str]) -> frozenset[str]:
    return frozenset(one for word in words for one in _spellings(word))


class Reader:
    """Read texts by the vocabulary and the words of the cuts.

    Parameters
    ----------
    phrases
        Every way to write a cut. What they hold besides the vocabulary is a word of its own.
    done
        Whether a word says what was done to meat, or denies it: it is known then.
    """

    def __init__(self, phrases: Iterable[str], done: Callable[[str], bool]) -> None:
        self.words = read_words()
        self._done = done
        known = dict(self.words.atoms)
        known.update({filler: frozenset({filler}) for filler in self.words.fillers - known.keys()})
        listed = [(phrase, stems(phrase.replace("=", ""))) for phrase in phrases]
        for _, parts in listed:
            for part in parts:
                if part not in known and not self._compound(part, known):
                    known[part] = frozenset({part})
        self._known: Mapping[str, frozenset[str]] = known
        self._joined = dict(self._joins(parts for _, parts in listed))

    def _joins(self, listed: Iterable[list[str]]) -> Iterator[tuple[str, frozenset[str]]]:
        """Yield words of the cuts written as one: "spareribs", "tritip"."""
        for parts in listed:
            if len(parts) == 2:
                atoms = self._known.get(parts[0], frozenset()) | self._known.get(
                    parts[1], frozenset()
                )
                if atoms and "".join(parts) not in self._known:
                    yield "".join(parts), atoms

    @staticmethod
    def _compound(word: str, known: Mapping[str, frozenset[str]]) -> frozenset[str] | None:
        """Return the atoms of an animal and what follows it in one word, or None."""
        for at in range(len(word) - 3, SHORTEST_COMPOUND - 1, -1):
            first, rest = known.get(word[:at], frozenset()), known.get(word[at:])
            if rest is None:
                rest = Reader._compound_rest(word[at:], known)
            if rest is not None and any(atom.startswith("@") for atom in first):
                return first | rest
        return None

    @staticmethod
    def _compound_rest(word: str, known: Mapping[str, frozenset[str]]) -> frozenset[str] | None:
        """Return the atoms of two words written as one, or None: "brustfilet"."""
        for at in range(4, len(word) - 3):
            if word[:at] in known and word[at:] in known:
                return known[word[:at]] | known[word[at:]]
        return None

    def phrase(self, text: str) -> frozenset[str]:
        """Return what a text must hold to be written this way.

        An animal's word asks for that animal, with ``=`` before it for the word itself.
        """
        wanted: set[str] = set()
        for part in text.split():
            literal = part.startswith("=")
            for atom in self._words_of(part.removeprefix("="))[0]:
                kept = atom.startswith("=") if literal else not atom.startswith("=")
                if kept:
                    wanted.add(atom)
        return frozenset(wanted)

    def say(self, text: str) -> Meaning:
        """Return what a text says."""
        atoms, unknown = self._words_of(text)
        return Meaning(frozenset(atoms | self._by_neighbours(stems(text))), tuple(unknown))

    def _words_of(self, text: str) -> tuple[set[str], list[str]]:
        """Return the atoms of a text's words, each by itself, and the words nobody knows."""
        atoms: set[str] = set()
        unknown = []
        words = self._merged(stems(text))
        for before, word in zip(["", *words], words, strict=False):
            found = self._look_up(word)
            if found is None:
                unknown.append(word)
            elif before not in self.words.negations or not self._non_intact(found):
                atoms |= found
        return atoms, unknown

    def _non_intact(self, atoms: frozenset[str]) -> bool:
        return any(self.words.forms.get(atom) == "non-intact" for atom in atoms)

    def _by_neighbours(self, words: list[str]) -> set[str]:
        """Return what words say of the meat beside one another: "apples inside"."""
        found: set[str] = set()
        for before, word, after in zip(["", *words], words, [*words[1:], ""], strict=False):
            named = {before, after} & self.words.inside_cuts
            filled = before in self.words.filled_with.get(word, frozenset())
            if filled or (word in self.words.inside and not named):
                found.add("stuffed")
            if self.words.under.get(word, frozenset()).intersection(words):
                found.add("injected")
        return found

    def _merged(self, words: list[str]) -> list[str]:
        """Join neighbours that are one word: "tender loin", "meat ball"."""
        for place, (one, two) in enumerate(pairwise(words)):
            both = {one, two} <= self._known.keys() - self.words.fillers
            if one + two in (self.words.atoms if both else self._known):
                return [*words[:place], *self._merged([one + two, *words[place + 2 :]])]
        return words

    def _look_up(self, word: str) -> frozenset[str] | None:
        if len(word) > LONGEST_WORD:
            return None
        found = self._known.get(word) or self._joined.get(word)
        found = found or self._compound(word, self._known) or self._by_ending(word)
        if not found and self._done(word):
            return frozenset()
        return found or self._typo(word)

    def _by_ending(self, word: str) -> frozenset[str] | None:
        said = (atom for end, atom in self.words.endings.items() if word.endswith(end))
        if (atom := next(said, None)) is None:
            return None
        start = next((word[:at] for at in range(len(word), 3, -1) if word[:at] in self._known), "")
        return self._known.get(start, frozenset()) | {atom}

    def _typo(self, word: str) -> frozenset[str] | None:
        """Return what a word with one slip in it must be; None where it could be two things."""
        slips = [one for one in _slips(word) if len(one) >= SHORTEST_TYPO]
        known = [one for one in slips if one in self._known]
        if any(len(one) == len(word) and self._is_lax(one) for one in known):
            return None  # another letter may make another animal: "cobra" is no "cabra"
        near = {self._known[one] for one in known}
        near |= {self._joined[one] for one in slips if one in self._joined}
        meant = {frozenset(a for a in atoms if not a.startswith("=")) or atoms for atoms in near}
        if len(meant) != 1:
            return None
        return near.pop() if len(near) == 1 else meant.pop()

    def _is_lax(self, word: str) -> bool:
        """Whether a word is that of an animal by which less is asked than of meat not known."""
        animals = {Animal(atom[1:]) for atom in self._known[word] if atom.startswith("@")}
        return bool(animals - POULTRY - GAME)


def _slips(word: str) -> Iterator[str]:
    """Yield what a word is with one letter left out, added, changed, or two swapped."""
    for at in range(len(word) + 1):
        start, rest = word[:at], word[at:]
        if rest:
            yield start + rest[1:]
        if len(rest) > 1:
            yield start + rest[1] + rest[0] + rest[2:]
        for letter in string.ascii_lowercase:
            yield start + letter + rest
            if rest:
                yield start + letter + rest[1:]
