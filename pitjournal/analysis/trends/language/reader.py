"""Read a question word by word, noting what could stand at each place."""

import difflib
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TypeVar

from pitjournal.analysis.trends.columns.grouping import SEASONS, WEEKDAYS
from pitjournal.analysis.trends.language.grammar import (
    CLAUSES,
    HAS_WORDS,
    KEYWORDS,
    RANGES,
    SIGNS,
    STOPS,
    SentenceError,
    date_of,
    plain,
    spelled,
)
from pitjournal.analysis.trends.language.synonyms import NOTHING_MEANT, meant, names_of
from pitjournal.analysis.trends.language.tokens import Word, words_of
from pitjournal.analysis.trends.question import (
    By,
    Part,
    Picture,
    Question,
    Sign,
    Where,
    make_where,
)
from pitjournal.domain.catalogue import Catalogue, Kind, Variable
from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem, parse

T = TypeVar("T")
Values = Callable[[Variable], Sequence[str]]
"""The texts a variable has in the journal."""


def no_values(_variable: Variable) -> Sequence[str]:
    """Know no texts of a variable."""
    return ()


class Reader:
    """Reads a sentence word by word, and remembers what could have stood where."""

    def __init__(self, text: str, catalogue: Catalogue, system: UnitSystem, values: Values) -> None:
        self.text, self.catalogue, self.system, self.values = text, catalogue, system, values
        self.words = words_of(text)
        self.at = 0
        self.names = names_of(catalogue)
        self.offered: list[tuple[int, tuple[str, ...], Mapping[str, str]]] = []
        self.by_read: list[By] = []
        self.where_read: list[Where] = []
        self.dates_read: list[Where] = []
        self.held_read: list[str] = []
        self.within = self.against = False
        self.picture_read: Picture | None = None

    # looking

    def word(self) -> Word | None:
        """Return the word that is next; None at the end."""
        return self.words[self.at] if self.at < len(self.words) else None

    def here(self) -> int:
        """Return where the next word stands, or would."""
        word = self.word()
        return word.start if word else len(self.text)

    def offer(self, options: Iterable[str], meant: Mapping[str, str] = NOTHING_MEANT) -> None:
        """Remember what could stand here, unless the word before is still being typed.

        `meant` has the option that each of other words stands for.
        """
        if self.word() is not None or not self.text or self.text[-1].isspace():
            self.offered.append((self.here(), tuple(options), meant))

    def comes_next(self, words: str) -> bool:
        """Whether these words come next."""
        wanted = words.split()
        found = self.words[self.at : self.at + len(wanted)]
        return [None if w.quoted else w.text.casefold() for w in found] == wanted

    def take(self, *phrases: str) -> str:
        """Take one of these phrases if it comes next."""
        for words in phrases:
            if self.comes_next(words):
                self.at += len(words.split())
                return words
        return ""

    def stops(self, extra: frozenset[str] = frozenset()) -> bool:
        """Whether what is being read ends here."""
        word = self.word()
        if word is None:
            return True
        return not word.quoted and (
            word.text == "," or word.text.casefold() in KEYWORDS or word.text.casefold() in extra
        )

    def wrong(self, message: str, hint: str, start: int, end: int | None = None) -> SentenceError:
        """Return a fault at a place of the sentence.

        Parameters
        ----------
        message, hint
            What is wrong, and what to do about it.
        start, end
            The signs it is about; None goes to the end of the sentence.
        """
        return SentenceError(message, hint, start, len(self.text) if end is None else end)

    def run(self, known: Iterable[str]) -> int:
        """Return how many of the next words together are the longest known text."""
        wanted = set(known)
        if self.at < len(self.words) and self.words[self.at].quoted:
            return int(plain(self.words[self.at].text) in wanted)
        longest, said = 0, ""
        for count, word in enumerate(self.words[self.at : self.at + 12], start=1):
            if word.quoted:
                break
            said += word.text if word.text == "," else f" {word.text}"
            if plain(said) in wanted:
                longest = count
        return longest

    # reading

    def question(self) -> Question:
        """Read a whole question."""
        if not self.words:
            self.offer(sorted(v.label for v in self.catalogue.values() if v.measure))
            raise self.wrong("Ask something.", "Try: yield by wrap where cut is brisket", 0)
        measure = self.variable(only_measures=True)
        while self.word() is not None:
            self.offer(CLAUSES)
            self.clause(self.here())
        self.offer(CLAUSES)
        return Question(
            measure.key,
            tuple(self.by_read),
            (*self.where_read, *self.dates_read),
            self.within,
            tuple(self.held_read),
            self.picture_read,
            against_control=self.against,
        )

    def clause(self, start: int) -> None:
        """Read one clause."""
        match self.take(*CLAUSES, "within", "against control"):
            case "by":
                self.by_read += self.several(self.by)
            case "where":
                self.where_read += [one for some in self.several(self.filter) for one in some]
            case "since":
                self.dates_read.append(Where("date", Sign.AT_LEAST, (self.date(),)))
            case "until":
                self.dates_read.append(Where("date", Sign.AT_MOST, (self.date(),)))
            case "holding":
                self.held_read += self.several(lambda: self.variable().key)
            case "as":
                self.picture_read = self.picture()
            case "":
                word = self.words[self.at]
                message = f"“{word.text[:40]}” is not understood here."
                hint = f"After the measure come {', '.join(CLAUSES[:-1])} or as."
                raise self.wrong(message, hint, start, word.end)
            case words:
                self.within |= words.startswith("within")
                self.against |= words.startswith("against")

    def several(self, one: "Callable[[], T]") -> "list[T]":
        """Read one or more, joined by "and" or commas."""
        found = [one()]
        self.offer(("and",))
        while self.take("and"):
            found.append(one())
            self.offer(("and",))
        return found

    def variable(self, *, only_measures: bool = False, also: Iterable[str] = ()) -> Variable:
        """Read the name of a variable."""
        fitting = [v for v in self.catalogue.values() if v.measure or not only_measures]
        self.offer((*sorted(v.label for v in fitting), *also), meant(fitting))
        count = self.run(self.names)
        if count:
            taken = self.words[self.at : self.at + count]
            self.at += count
            name = "".join(w.text if w.text == "," else f" {w.text}" for w in taken)
            return self.names[plain(name)]
        start = self.here()
        if self.word() is None:
            raise self.wrong("A name is missing at the end.", "Choose from the list.", start)
        said, end = self.loose(STOPS)
        near = self._near(said.casefold())
        hint = f"Did you mean {' or '.join(near)}?"
        message = f"Nothing is called “{said[:40]}”."
        raise self.wrong(message, hint if near else "Choose from the list.", start, end)

    def _near(self, said: str) -> list[str]:
        """Return the labels that a word comes near to: by the labels first, then other words."""
        labels = {v.label.casefold(): v.label for v in self.catalogue.values()}
        close = difflib.get_close_matches(said, list(labels), n=3, cutoff=0.5)
        other = difflib.get_close_matches(said, list(self.names), n=6, cutoff=0.7)
        found = [*(labels[name] for name in close), *(self.names[name].label for name in other)]
        return list(dict.fromkeys(found))[:3]

    def loose(self, extra: frozenset[str] = frozenset()) -> tuple[str, int]:
        """Take words up to the next of the grammar; return them and where they end."""
        taken: list[Word] = []
        while not taken or not self.stops(extra):
            word = self.word()
            if word is None:
                break
            taken.append(word)
            self.at += 1
        return " ".join(word.text for word in taken), taken[-1].end if taken else self.here()

    def by(self) -> By:
        """Read what it is grouped by."""
        start = self.here()
        part = self.take(*Part)
        if part:
            labels = tuple(sorted(v.label for v in self.catalogue.values()))
            self.offered.append((start, labels, NOTHING_MEANT))
            return By("date", Part(part))
        variable = self.variable(also=Part)
        if variable.kind is Kind.WORDS:
            hint = f"Choose cooks by it: where {variable.label} has …"
            raise self.wrong(
                f"{variable.label} makes no groups.", hint, start, self.words[self.at - 1].end
            )
        if variable.kind is Kind.TIME:
            return By(variable.key, Part.MONTH)
        if variable.kind is not Kind.NUMBER:
            return By(variable.key)
        self.offer(("split at",))
        edges = self.edges(variable) if self.take("split at") else ()
        return By(variable.key, None, edges)

    def edges(self, variable: Variable) -> tuple[float, ...]:
        """Read the numbers at which a variable is cut into groups, storage unit."""
        found = [self.number(variable)]
        while self.take(","):
            found.append(self.number(variable))
        return tuple(sorted(set(found)))

    def number(self, variable: Variable, extra: frozenset[str] = frozenset()) -> float:
        """Read a number, storage unit."""
        start = self.here()
        if self.stops(extra):
            message = f"A number for {variable.label} is missing."
            raise self.wrong(message, "Type a number.", start, start + 1)
        said, end = self.loose(extra)
        dimension = variable.dimension
        if dimension is Dimension.COUNT:
            dimension = Dimension.NUMBER  # half a spritz parts one from none
        try:
            return parse(said, dimension, self.system)
        except JournalError as error:
            raise self.wrong(error.message, error.hint, start, end) from error

    def filter(self) -> list[Where]:
        """Read what has to hold."""
        start = self.here()
        yes_no = sorted(v.label for v in self.catalogue.values() if v.kind is Kind.YES_NO)
        self.offer(f"not {label}" for label in yes_no)
        no = bool(self.take("not"))
        variable = self.variable()
        if variable.kind is Kind.YES_NO and (no or self.stops()):
            return [Where(variable.key, Sign.IS, ("no" if no else "yes",))]
        self.offer(_signs_for(variable))
        if variable.kind is Kind.NUMBER and self.take(*RANGES):
            low = self.number(variable, frozenset({"to"}))
            self.offer(("to",))
            if not self.take("to", "and"):
                raise self.wrong("From that to what?", "Say from 1 in to 2 in.", start, self.here())
            return [
                Where(variable.key, Sign.AT_LEAST, (low,)),
                Where(variable.key, Sign.AT_MOST, (self.number(variable),)),
            ]
        signs = SIGNS if variable.kind is not Kind.WORDS else {**_HAS, **SIGNS}
        sign = self.take(*signs)
        if not sign:
            end = self.here() if self.word() is None else self.words[self.at].end
            hint = "Try: where cut is brisket, or: where thickness above 30 mm"
            said = self.text[start:end].strip()
            raise self.wrong(f"“{said[:40]}” is no filter yet.", hint, start, end)
        return [self.compared(variable, signs[sign])]

    def compared(self, variable: Variable, sign: Sign) -> Where:
        """Read what a variable is compared with."""
        start = self.here()
        try:
            make_where(variable, sign, ["1"], self.system)
        except JournalError as error:
            raise self.wrong(error.message, error.hint, start) from error
        if variable.kind is Kind.NUMBER:
            numbers = [self.number(variable)]
            while self.take("or", ","):
                numbers.append(self.number(variable))
            return Where(variable.key, sign, tuple(numbers))
        if variable.kind is Kind.TIME:
            return Where(variable.key, sign, tuple(self.times(sign)))
        texts = [self.value(variable)]
        self.offer(("or",))
        while self.take("or", ","):
            texts.append(self.value(variable))
        return Where(variable.key, sign, tuple(texts))

    def value(self, variable: Variable) -> str:
        """Read a text that a variable may have."""
        known = list(dict.fromkeys((*self.values(variable), *variable.choices)))
        if variable.kind is Kind.YES_NO:
            known = ["yes", "no"]
        self.offer(spelled(value) for value in known)
        texts = {plain(value): value for value in known}
        count = self.run(texts)
        if count:
            taken = self.words[self.at : self.at + count]
            self.at += count
            return texts[plain("".join(w.text if w.text == "," else f" {w.text}" for w in taken))]
        start = self.here()
        if self.stops():
            message = f"{variable.label}: compared with what?"
            raise self.wrong(message, "Type a value.", start, start + 1)
        said, _ = self.loose()
        return said

    def times(self, sign: Sign) -> list[str]:
        """Take a date; after "is" and "is not" also seasons and days of the week, several."""
        if sign not in {Sign.IS, Sign.IS_NOT}:
            return [self.date()]
        self.offer((*SEASONS, *WEEKDAYS))
        names = {name.casefold(): name for name in (*SEASONS, *WEEKDAYS)}
        found: list[str] = []
        while not found or self.take("or", ","):
            named = self.take(*names)
            found.append(names[named] if named else self.date())
        return found

    def date(self) -> str:
        """Read a date."""
        start = self.here()
        said, end = self.loose() if not self.stops() else ("", start + 1)
        found = date_of(said)
        if found is None:
            message = f"“{said[:40]}” is no date." if said else "A date is missing."
            raise self.wrong(message, "Try 2025, 2025-08 or August 2025.", start, end)
        return found

    def picture(self) -> Picture:
        """Read how it is to be drawn."""
        self.offer(Picture)
        start = self.here()
        self.take("a", "an")
        found = self.take(*Picture)
        if not found:
            hint = f"Choose {', '.join(Picture)}."
            raise self.wrong("That is no way to draw an answer.", hint, start)
        return Picture(found)


_HAS = {words: sign for sign, words in HAS_WORDS.items()}


def _signs_for(variable: Variable) -> list[str]:
    if variable.kind is Kind.WORDS:
        return list(_HAS)
    if variable.kind is Kind.NUMBER:
        return ["is", "is not", "above", "below", "at least", "at most", "from"]
    if variable.kind is Kind.TIME:
        return list(SIGNS)[:6]
    return ["is", "is not"]
