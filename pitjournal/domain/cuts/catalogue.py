"""The one catalogue of meats and cuts: what a cook wrote, and what it means.

`meat_of` reads what is written in a cut's field. What is written stays as it is; only its
meaning is looked up. Everything in the catalogue is common practice, no source: good for
ranges and hints. What a temperature is judged by stands in `resources/safety`.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache
from typing import Any

from pitjournal.domain.cuts.done import affirmed, done_in, form_of, says_done
from pitjournal.domain.cuts.meat import (
    GAME,
    POULTRY,
    SEAFOOD,
    Animal,
    Cut,
    Form,
    Meat,
    Range,
    UsualCut,
    over,
)
from pitjournal.domain.cuts.words import Reader, stems
from pitjournal.resource_files import resource_path
from pitjournal.units.scales import POUND

HOUR, MINUTE = 3600.0, 60.0

GUARDED_OFF = (165.0 - 32.0) / 1.8
"""Stuffed meat and poultry come off no earlier, °C (Food Code 3-401.11(A)(3))."""

GROUND_OFF = (160.0 - 32.0) / 1.8
"""Ground meat comes off no earlier, °C (USDA FSIS safe minimum internal temperature chart)."""


@dataclass(frozen=True)
class _Phrase:
    """One way to write a cut."""

    atoms: frozenset[str]
    weight: float
    cut: Cut
    bare: bool
    literal: bool


class _Catalogue:
    """The cuts, and how their names are read."""

    def __init__(self) -> None:
        kept: dict[str, Any] = json.loads(resource_path("cuts/cuts.json").read_text("utf-8"))
        self.cuts = tuple(_cut(entry) for entry in kept["cuts"])
        self.also: Mapping[str, tuple[str, ...]] = {
            entry["key"]: tuple(entry["also"]) for entry in kept["cuts"]
        }

    @cached_property
    def reader(self) -> Reader:
        """What reads words; made when something is read first, for names alone need none."""
        return Reader((text for text, _ in self._written()), says_done)

    @cached_property
    def phrases(self) -> tuple[_Phrase, ...]:
        """Each way to write a cut, once."""
        return tuple({self._phrase(text, cut): None for text, cut in self._written()})

    def _written(self) -> Iterator[tuple[str, Cut]]:
        return ((text, cut) for cut in self.cuts for text in self.also[cut.key])

    def _phrase(self, text: str, cut: Cut) -> _Phrase:
        atoms = self.reader.phrase(text)
        fillers = self.reader.words.fillers
        return _Phrase(
            atoms,
            sum(_weight(atom, fillers) for atom in atoms),
            cut,
            all(atom.startswith(("@", "=")) or atom in fillers for atom in atoms),
            any(atom.startswith("=") for atom in atoms),
        )

    def read(self, text: str) -> Meat:
        """Return what a text says."""
        said = self.reader.say(affirmed(text, is_cut=True))
        words = self.reader.words
        animals = frozenset(Animal(atom[1:]) for atom in said.atoms if atom.startswith("@"))
        forms = {Form(words.forms[atom]) for atom in said.atoms if atom in words.forms}
        forms.add(form_of(done_in(text, is_cut=True)))
        found = _longest(
            phrase
            for phrase in self.phrases
            if phrase.atoms <= said.atoms and _may_be_of(phrase, animals)
        )
        covered = frozenset(words.forms).union(words.fillers, *(p.atoms for p in found))
        rest = {atom for atom in said.atoms if not atom.startswith(("@", "="))} - covered
        over = bool(rest or said.unknown)
        named = [phrase for phrase in found if not (phrase.bare and over)]
        whole = frozenset(p.cut.animal for p in named if p.cut.animal is not None)
        every = animals | whole
        if words.wild & set(stems(text)) and not (every and every <= SEAFOOD):
            every |= {Animal.OTHER_GAME}
        form = max((*forms, *(p.cut.form for p in named), Form.WHOLE), key=lambda one: one.rank)
        telling = [p for p in named if p.cut.form is Form.GROUND or p.cut.is_variety]
        best = _best(telling or named)
        told = bool(animals) or any(
            atom not in words.parts and atom not in words.fillers
            for phrase in best
            for atom in phrase.atoms
        )
        known = (
            (bool(best) and (told or not over) and not self._of_any(best, said.atoms))
            or bool(every & (POULTRY | GAME))
            or form is Form.STUFFED
        )
        cuts = tuple(dict.fromkeys(_as_said(p.cut, every, form) for p in best))
        return Meat(
            text,
            cuts[0] if known and len(cuts) == 1 else None,
            cuts,
            every,
            form,
            known,
            said.unknown,
        )

    def _of_any(self, phrases: Iterable[_Phrase], said: frozenset[str]) -> bool:
        """Whether it is only a part that a bird or game has too, of an animal not said."""
        words = self.reader.words
        told = words.of_one & said or any(atom.startswith("@") for atom in said)
        nothing = words.of_any | words.fillers
        return not told and all(phrase.atoms <= nothing for phrase in phrases)


def _weight(atom: str, fillers: frozenset[str]) -> float:
    """Return how much an atom tells: a filler half, a word of the cut's own a little more."""
    if atom in fillers:
        return 0.5
    return 1.1 if atom.startswith("=") else 1.0


def _may_be_of(phrase: _Phrase, animals: frozenset[Animal]) -> bool:
    """Whether a phrase fits the animals that are said; one by a word of its own always does."""
    animal = phrase.cut.animal
    return not animals or phrase.literal or animal is None or animal in animals


def _longest(phrases: Iterable[_Phrase]) -> list[_Phrase]:
    """Leave out what is part of a longer phrase: "ribs" in "short ribs"."""
    found = list(phrases)
    return [p for p in found if not any(p.atoms < other.atoms for other in found)]


def _best(phrases: list[_Phrase]) -> list[_Phrase]:
    most = max((phrase.weight for phrase in phrases), default=0.0)
    return [phrase for phrase in phrases if phrase.weight == most]


def _as_said(cut: Cut, animals: frozenset[Animal], form: Form) -> Cut:
    """Return a cut with the animal and the form that were said with it."""
    if cut.animal is None and len(animals) == 1:
        (animal,) = animals
        name = f"{animal} {cut.name}" if cut.name != "ground meat" else f"ground {animal}"
        cut = replace(cut, animal=animal, name=name)
    if form.rank > cut.form.rank:
        name = f"stuffed {cut.name}" if form is Form.STUFFED else cut.name
        cut = replace(cut, form=form, name=name)
    least = 0.0
    if cut.form is Form.STUFFED or (cut.form is Form.GROUND and cut.animal in POULTRY | GAME):
        least = GUARDED_OFF
    elif cut.form is Form.GROUND:
        least = GROUND_OFF
    off = Range(max(cut.off.low, least), max(cut.off.high, least))
    return cut if off == cut.off else replace(cut, off=off)


def _range(entry: Mapping[str, Any], name: str, unit: float = 1.0) -> Range | None:
    if name not in entry:
        return None
    low, high = entry[name]
    return Range(low * unit, high * unit)


def _sure(entry: Mapping[str, Any], name: str, unit: float = 1.0) -> Range:
    low, high = entry[name]
    return Range(low * unit, high * unit)


def _celsius(entry: Mapping[str, Any], name: str) -> Range:
    low, high = entry[name]
    return Range((low - 32.0) / 1.8, (high - 32.0) / 1.8)


def _cut(entry: Mapping[str, Any]) -> Cut:
    animal = entry["animal"]
    pounds = entry.get("usual_lb")
    return Cut(
        key=entry["key"],
        name=entry["name"],
        animal=None if animal == "any" else Animal(animal),
        form=Form(entry["form"]),
        shape=entry["shape"],
        thickness=_sure(entry, "thickness_mm", 0.001),
        pit=_celsius(entry, "pit_f"),
        hours=_range(entry, "hours", HOUR),
        per_mass=_range(entry, "hours_per_lb", HOUR / POUND),
        usual_mass=None if pounds is None else pounds * POUND,
        off=_celsius(entry, "off_f"),
        wrap=_range(entry, "wrap_hours", HOUR),
        wrap_share=_range(entry, "wrap_share"),
        rest=_sure(entry, "rest_min", MINUTE),
        bone=entry["bone"],
        served=entry["served"],
        word=entry["word"],
        groups=tuple(entry["groups"]),
    )


@cache
def _catalogue() -> _Catalogue:
    return _Catalogue()


@lru_cache(maxsize=4096)
def meat_of(text: str) -> Meat:
    """Return what a text in a cut's field says, in any case, order, plural, or with one slip.

    Parameters
    ----------
    text
        As a cook wrote it: "1/2 Chicken-wings", "shoulder of pork", "Rinderbrust".

    Returns
    -------
    Meat
        With no cut and not known where nobody can tell; a blank text is not known.
    """
    return _catalogue().read(text)


@lru_cache(maxsize=4096)
def form_in(text: str) -> Form:
    """Return the form that words name, of those the one that asks most: "boned and rolled"."""
    catalogue = _catalogue()
    named = catalogue.reader.words.forms
    forms = [
        Form(named[atom]) for atom in catalogue.reader.say(affirmed(text)).atoms if atom in named
    ]
    return max((*forms, form_of(done_in(text))), key=lambda form: form.rank)


def find_cut(text: str) -> Cut | None:
    """Return the one cut a text means, or None where it means none or several."""
    return meat_of(text).cut


@lru_cache(maxsize=4096)
def cuts_under(text: str) -> tuple[Cut, ...]:
    """Return every cut that a word is for: all ribs for "ribs", all birds for "poultry".

    The name of one cut gives that one; an animal alone gives all that is cut from it.
    """
    meat = meat_of(text)
    said = _catalogue().reader.say(text)
    only_animals = all(atom.startswith(("@", "=")) for atom in said.atoms) and not said.unknown
    if meat.animals and only_animals:
        birds = meat.animals == {Animal.OTHER_BIRD}
        wanted = POULTRY if birds else GAME if meat.animals == {Animal.OTHER_GAME} else meat.animals
        return tuple(cut for cut in all_cuts() if cut.animal in wanted)
    group = tuple(cut for cut in all_cuts() if _is_group(text, cut))
    named = [cut.name.casefold() for cut in meat.cuts] == [text.strip().casefold()]
    return group if group and not named else meat.cuts


def _is_group(text: str, cut: Cut) -> bool:
    said = stems(text)
    return any(said == stems(group) for group in cut.groups)


def means(text: str, asked: str) -> bool:
    """Whether what was written as a cut is one of those that were asked for.

    "Chicken Wings" is "wings", and "baby backs" are "ribs"; what is written alike is the same
    whether anyone knows it or not.
    """
    if same_cut(text, asked):
        return True
    written, wanted = meat_of(text), cuts_under(asked)
    if not written.cuts or len(wanted) < 2:
        return False
    keys = {cut.key for cut in wanted}
    return all(cut.key in keys for cut in written.cuts)


def groups_among(texts: Iterable[str]) -> list[str]:
    """Return the words that are for several of some recorded cuts: "ribs", "pork", "poultry"."""
    known = [(text, meat_of(text).cuts) for text in dict.fromkeys(texts)]
    words = dict.fromkeys(
        word
        for cut in all_cuts()
        for word in (
            *cut.groups,
            *(() if cut.animal is None else (str(cut.animal),)),
            *(("poultry",) if cut.is_poultry else ()),
        )
    )
    taken = {text.casefold() for text, _ in known}
    found = []
    for word in words:
        keys = {cut.key for cut in cuts_under(word)}
        inside = [text for text, cuts in known if cuts and all(cut.key in keys for cut in cuts)]
        if word not in taken and 1 < len(inside) < len(known):
            found.append(word)
    return found


def same_cut(one: str, two: str) -> bool:
    """Whether two texts mean one and the same cut, or are written alike.

    An animal that only one of them says makes no difference: "sausage" is "pork sausage".
    """
    if one.strip().casefold() == two.strip().casefold():
        return True
    first, second = find_cut(one), find_cut(two)
    if first is None or second is None or (first.key, first.form) != (second.key, second.form):
        return False
    return None in {first.animal, second.animal} or first.animal == second.animal


def usual_of(text: str, mass: float | None = None) -> UsualCut | None:
    """Return what is usual for what a text says, over all cuts it may mean.

    Parameters
    ----------
    text
        As a cook wrote it.
    mass
        g of the piece, where it was weighed: some cuts go by it.

    Returns
    -------
    UsualCut or None
        None where nobody knows the cut.
    """
    meat = meat_of(text)
    if not meat.known or not meat.cuts:
        return None
    words = {cut.word for cut in meat.cuts}
    return UsualCut(
        time_on=over([cut.time_on(mass) for cut in meat.cuts]),
        off=over([cut.off for cut in meat.cuts]),
        rest=over([cut.rest for cut in meat.cuts]),
        word=words.pop() if len(words) == 1 else "piece",
        cuts=meat.cuts,
    )


def served_as(text: str) -> str:
    """Return how a cut is served: "sliced", "pulled" or "whole"; sliced where nobody can tell."""
    ways = {cut.served for cut in meat_of(text).cuts}
    return ways.pop() if len(ways) == 1 else "sliced"


def all_cuts() -> tuple[Cut, ...]:
    """Return the catalogue, in the order it is offered."""
    return _catalogue().cuts


@cache
def cut_names() -> tuple[str, ...]:
    """Return the names of the catalogue: what completion offers."""
    return tuple(cut.name for cut in all_cuts())


def written_as(cut: Cut) -> tuple[str, ...]:
    """Return the ways the catalogue knows to write a cut, its name first."""
    ways = (way.replace("=", "") for way in _catalogue().also[cut.key])
    return tuple(dict.fromkeys((cut.name, *ways)))
