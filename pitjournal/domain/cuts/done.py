"""What words say was done to meat, wherever they stand: `resources/cuts/done.json`.

A cut, an arm, a treatment, a note, a title and the cell of a table are read by this one list.
Food Code 1-201.10: meat that is injected, mechanically tenderised, reconstructed, or scored and
marinated is not intact.
"""

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import dropwhile
from typing import Any

from pitjournal.domain.cuts.labels import solution_in
from pitjournal.domain.cuts.meat import Form
from pitjournal.domain.cuts.words import UN, denied, plain, stem
from pitjournal.resource_files import resource_path

SCORED_AND_MARINATED = "scored and marinated"
"""Two things of which each alone leaves meat intact, and both together do not."""

PRESSED_IN = "marinated under pressure"

SOLUTION = "sold with a solution"

BOTH = frozenset({SCORED_AND_MARINATED, PRESSED_IN})
"""What is said by two words, which may stand in two places."""

_TOKENS = re.compile(r"[a-z0-9]+|[,;:.!?()/+&]|\n")
_INITIAL = re.compile(r"(?<=\b[A-Za-z])\.")
"""The point of an initial: "M.T."."""
_LIES = frozenset({"on", "to", "onto", "from", "off"})
_FREE = re.compile(r"\b[a-z]+(?:-free\b|(?:s|-)?frei(?:e[nrs]?)?\b)")


@dataclass(frozen=True)
class Done:
    """Something that was done to meat, and the words that say so.

    Attributes
    ----------
    what
        "injected", "needled", "ground".
    form
        What it makes of the meat.
    words
        As they stand in the text, in small letters without accents.
    """

    what: str
    form: Form
    words: str


@dataclass(frozen=True)
class _Kind:
    what: str
    form: Form
    inside: tuple[str, ...]
    starts: tuple[str, ...]
    words: frozenset[str]
    phrases: tuple[tuple[str, ...], ...]

    def named_by(self, word: str) -> bool:
        return (
            word.startswith(self.starts)
            or any(part in word for part in self.inside)
            or (word in self.words or stem(word) in self.words)
        )


class _Vocabulary:
    """The words of the file, in small letters without accents."""

    def __init__(self) -> None:
        kept: dict[str, Any] = json.loads(resource_path("cuts/done.json").read_text("utf-8"))
        self.kinds = tuple(_kind(entry) for entry in kept["done"])
        self.but = tuple(kept["but"])
        self.free_only = frozenset(kept["free_only"])
        self.by_name = frozenset(kept["by_name"])
        self.beside_name = frozenset(kept["beside_name"])
        self.alone_no_name = frozenset(kept["alone_no_name"])
        self.marinated = tuple(kept["marinated"])
        self.with_marinade = {
            SCORED_AND_MARINATED: tuple(kept["cut_here"]),
            PRESSED_IN: tuple(kept["pressed_in"]),
        }
        self.negations, self.between = frozenset(kept["not"]), frozenset(kept["between"])
        self.un = tuple(kept["un"])
        self.of_spice = frozenset(kept["of_spice"])
        self.spice_is = frozenset(kept["spice_is"])
        self.of_all = frozenset(kept["of_all"])
        self.no_meat = tuple(kept["no_meat"])
        self.begin_phrases = frozenset(p[0] for kind in self.kinds for p in kind.phrases)
        self.joins, self.ends = frozenset(kept["joins"]), frozenset(kept["ends"])

    def is_spice(self, word: str) -> bool:
        """Whether a word names a spice or an herb."""
        return word in self.of_spice or stem(word) in self.of_spice

    def is_no_meat(self, word: str) -> bool:
        """Whether a word names what is poked or filled about a fire, and is no meat."""
        return word.startswith(self.no_meat) or word.endswith(self.no_meat)

    @lru_cache(maxsize=1 << 14)  # noqa: B019 - there is one vocabulary, and it stays
    def kind_of(self, word: str) -> _Kind | None:
        """Return what a word says was done; None for another word, or one that denies it.

        Words come again and again: a check of ten thousand cooks asks 200,000 times.
        """
        if word.startswith(self.but):
            return None
        return next((kind for kind in self.kinds if kind.named_by(word)), None)

    @lru_cache(maxsize=1 << 14)  # noqa: B019 - there is one vocabulary, and it stays
    def denies(self, word: str) -> bool:
        """Whether a word denies in itself what it names: "uninjected"."""
        rest = next((word.removeprefix(un) for un in self.un if word.startswith(un)), "")
        kind = self.kind_of(rest) if len(rest) > 3 else None
        at_start = (*kind.inside, *kind.starts) if kind else ()
        return kind is not None and kind.form is Form.NON_INTACT and rest.startswith(at_start)

    def negated(self, words: Sequence[str], at: int) -> bool:
        """Whether the word before denies it: "not injected", "has not been injected"."""
        return denied(words, at, self.negations, self.between)


def _kind(entry: Mapping[str, Any]) -> _Kind:
    return _Kind(
        entry["what"],
        Form(entry["form"]),
        tuple(entry["inside"]),
        tuple(entry["starts"]),
        frozenset(entry["words"]),
        tuple(tuple(phrase.split()) for phrase in entry["phrases"]),
    )


@cache
def vocabulary() -> _Vocabulary:
    """Return the words that say what was done."""
    return _Vocabulary()


@lru_cache(maxsize=4096)
def done_in(text: str, *, is_cut: bool = False) -> tuple[Done, ...]:
    """Return what a text says was done to the meat, each thing once, in the order said.

    Parameters
    ----------
    text
        In any case and order, English, German or Spanish.
    is_cut
        Whether it names a cut: what is also the name of one is not counted then ("agujas").

    Returns
    -------
    tuple of Done
        What is denied ("not injected", "uninjected", "ohne Injektion") is left out, and so are
        ground pepper, minced garlic, coals that were poked and a chimney that was stuffed. In
        doubt a word counts.
    """
    known = vocabulary()
    words = _affirmed(_words(text))
    found: dict[str, Done] = {}
    for at, word in enumerate(words):
        kind = known.kind_of(word)
        if kind is None or (is_cut and stem(word) in known.free_only):
            continue
        if not is_cut and (_is_ground_spice(words, at) or _is_of_the_fire(words, at)):
            continue
        found.setdefault(kind.what, Done(kind.what, kind.form, word))
    for done in (*_phrases(words), *_with_marinade(words)):
        found.setdefault(done.what, done)
    if "injected" not in found and (label := solution_in(text)):
        found[SOLUTION] = Done(SOLUTION, Form.NON_INTACT, label)
    return tuple(found.values())


def named_by_blade(text: str) -> bool:
    """Whether a whole name says that blades went in: "blade", "MT", "mech. tend. x2".

    Such a word in a longer text may be a cut's ("blade roast"), and is not counted there.

    Parameters
    ----------
    text
        What an arm is called, or all that is written of a treatment.
    """
    known = vocabulary()
    words = [word for word in _words(_INITIAL.sub("", text)) if word.isalpha()]
    telling = [word for word in words if word in known.by_name]
    return bool(set(telling) - known.alone_no_name) and all(
        word in known.by_name or word in known.beside_name for word in words
    )


def affirmed(text: str, *, is_cut: bool = False) -> str:
    """Return a text without the words for what was not done to the meat, where it holds any.

    Parameters
    ----------
    text
        In any case and order.
    is_cut
        Whether it names a cut; else what is ground beside a spice is left out too.
    """
    words = _words(text)
    said = _affirmed(words)
    if not is_cut:
        said = [word for at, word in enumerate(said) if not _is_ground_spice(said, at)]
    return text if len(said) == len(words) else " ".join(said)


def _words(text: str) -> list[str]:
    small = UN.sub("not ", plain(text).replace("'", ""))
    small = _FREE.sub(lambda found: "" if _denied(found[0]) else found[0], small)
    return _TOKENS.findall(small)


def _affirmed(words: Sequence[str]) -> list[str]:
    """Leave out what is denied by the word before it, or by itself: "uninjected"."""
    known = vocabulary()
    return [
        word
        for at, word in enumerate(words)
        if not known.denies(word) and not (_denied(word) and known.negated(words, at))
    ]


def says_done(word: str) -> bool:
    """Whether a plain word says what was done to meat, or denies it."""
    return vocabulary().kind_of(word) is not None or vocabulary().denies(word)


def form_of(done: Iterable[Done]) -> Form:
    """Return the form that asks most of those that some things done make."""
    return max((one.form for one in done), key=lambda form: form.rank, default=Form.WHOLE)


def _denied(word: str) -> bool:
    """Whether a word ending in "free" names what was not done: "injection-free"."""
    kind = vocabulary().kind_of(word)
    return kind is not None and kind.form is Form.NON_INTACT


def _is_ground_spice(words: Sequence[str], at: int) -> bool:
    """Whether a word says that a spice was ground: "ground black pepper", "pimienta molida"."""
    kind = vocabulary().kind_of(words[at])
    if kind is None or kind.form is not Form.GROUND:
        return False
    known = vocabulary()
    before, after = words[at - 1] if at else "", [*words[at + 1 : at + 3], "", ""]
    if known.is_spice(after[0]) or (after[0] in known.spice_is and known.is_spice(after[1])):
        return True
    return known.is_spice(before) and not after[0].isalnum()


def _is_of_the_fire(words: Sequence[str], at: int) -> bool:
    """Whether a word is about the fire, a dial or the earth: "poked the coals", "on the ground"."""
    kind = vocabulary().kind_of(words[at])
    if kind is None or kind.what not in {"needled", "stuffed", "ground"}:
        return False
    before, after = [*words[:at][::-1], "", ""], [*words[at + 1 :], ""]
    if kind.form is Form.GROUND:
        return before[0] in {"the", "dem", "den"} and before[1] in _LIES and not after[0].isalnum()
    return _names_the_fire(after) or (
        _names_the_fire(before) and (not after[0].isalnum() or after[0] in vocabulary().joins)
    )


def _names_the_fire(side: Sequence[str]) -> bool:
    """Whether the first word of a side that says something is no meat, and belongs to none."""
    known = vocabulary()
    said = list(dropwhile(lambda word: word in known.joins, side))
    if not said or not known.is_no_meat(said[0]):
        return False
    return len(said) == 1 or not said[1].isalnum() or said[1] in known.joins | known.ends


def _phrases(words: Sequence[str]) -> Iterable[Done]:
    known = vocabulary()
    if known.begin_phrases.isdisjoint(words):
        return
    for kind in known.kinds:
        for phrase in kind.phrases:
            for at in range(len(words) - len(phrase) + 1):
                if tuple(words[at : at + len(phrase)]) == phrase and not known.negated(words, at):
                    yield Done(kind.what, kind.form, " ".join(phrase))


def _with_marinade(words: Sequence[str]) -> Iterable[Done]:
    """Yield what carries a marinade inside: the meat was scored, or pressure or vacuum used."""
    known = vocabulary()
    wet = _first(words, known.marinated)
    for what, starts in known.with_marinade.items():
        how = _first(words, starts)
        if wet and how:
            yield Done(what, Form.NON_INTACT, f"{how} … {wet}")


def _first(words: Sequence[str], starts: tuple[str, ...]) -> str:
    negated = vocabulary().negated
    found = (w for at, w in enumerate(words) if w.startswith(starts) and not negated(words, at))
    return next(found, "")
