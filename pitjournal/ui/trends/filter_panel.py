"""Choose which cooks count: a variable, and what it must be."""

from collections.abc import Callable, Sequence

import numpy as np
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.analysis.trends.brush import of_range
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.grouping import SEASONS, WEEKDAYS
from pitjournal.analysis.trends.language.grammar import date_of
from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.domain.catalogue import Kind, Variable
from pitjournal.domain.cuts import groups_among
from pitjournal.journal.jobs import Progress
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import ChoiceBox
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import QuantityField, TextField
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, clear, row, words
from pitjournal.ui.trends.by_panel import spread_of
from pitjournal.units import from_display, to_display
from pitjournal.units.first_letter import capital

MOST_CHIPS = 14
"""So many values are chips to tap; all can be typed."""


INNER_HEIGHT = 320
"""Every kind of variable has room in so much, so that the panel stays where it is, px."""


class FilterPanel(Overlay):
    """Only cooks where a variable is what the cook wants."""

    def __init__(
        self, over: QWidget, desk: Desk, take: Callable[[tuple[Where, ...]], None]
    ) -> None:
        super().__init__(over, "Only cooks where", 640)
        self._desk, self._take = desk, take
        kinds = [v for v in desk.catalogue.values() if v.kind is not Kind.TEXT]
        variables = sorted(((v.key, v.label) for v in kinds), key=lambda one: one[1])
        self.variable = ChoiceBox("Variable", variables, self._offer)
        self.problem = Problem()
        self.what = words("", "quiet")
        holder = QWidget()
        holder.setMinimumHeight(INNER_HEIGHT)
        self._inner = QVBoxLayout(holder)
        self._inner.setContentsMargins(0, 0, 0, 0)
        self._inner.setSpacing(tokens.S)
        self.body.addWidget(self.variable)
        self.body.addWidget(self.what)
        self.body.addWidget(holder, 1)
        self.body.addWidget(self.problem)
        self.add = button("Add the filter", self._keep, "primary")
        self.body.addLayout(row(self.add, None))
        self._part: _Part | None = None
        self.variable.set_value("cut")
        self._offer("cut")

    def choose(self, key: str) -> None:
        """Take a variable."""
        self.variable.set_value(key)
        self._offer(key)

    def _offer(self, key: object) -> str:
        """Offer what a variable has been; the worker reads it where that takes a while."""
        self._key, self._part = str(key), None
        clear(self._inner)
        self.problem.say("")
        if self._desk.reads_at_once((self._key,)):
            self._lay(self._desk.journal.trends.frame())
        else:
            self._wait(self._key)
        return ""

    def _wait(self, key: str) -> None:
        self._inner.addWidget(words("Reading all the cooks…", "quiet"))
        trends = self._desk.journal.trends

        def work(progress: Progress) -> Frame:
            frame = trends.frame(progress)
            frame.numbers(key)  # a column is read when it is first asked for
            frame.choices(key)
            return frame

        def done(frame: Frame) -> None:
            if key == self._key:  # else another one was chosen meanwhile
                clear(self._inner)
                self._lay(frame)

        self._desk.bridge.run("Read all the cooks", work, done, asker=self)

    def _lay(self, frame: Frame) -> None:
        variable = self._desk.catalogue[self._key]
        self.what.setText(capital(f"{variable.help}.") if variable.help else "")
        self.what.setVisible(bool(variable.help))
        makers: dict[Kind, type[_Part]] = {
            Kind.NUMBER: _NumberPart,
            Kind.YES_NO: _YesNoPart,
            Kind.TIME: _TimePart,
            Kind.WORDS: _WordsPart,
        }
        self._part = makers.get(variable.kind, _ChoicePart)(
            variable, frame, self._desk, self._inner, self._keep
        )
        self._inner.addStretch(1)

    def _keep(self) -> None:
        if self._part is None:
            return
        found = self._part.wheres()
        if isinstance(found, str):
            self.problem.say(found)
            return
        self.close_panel()
        self._take(found)


class _Part:
    """What one kind of variable offers."""

    def __init__(
        self,
        variable: Variable,
        frame: Frame,
        desk: Desk,
        into: QVBoxLayout,
        keep: Callable[[], None],
    ) -> None:
        self.variable, self.frame, self.desk, self.keep = variable, frame, desk, keep
        for widget in self.widgets():
            into.addWidget(widget)

    def widgets(self) -> Sequence[QWidget]:
        """Return what stands in the panel."""
        raise NotImplementedError

    def wheres(self) -> tuple[Where, ...] | str:
        """Return the filters, or what is missing."""
        raise NotImplementedError


class _ChoicePart(_Part):
    def widgets(self) -> Sequence[QWidget]:
        codes, names = self.frame.choices(self.variable.key)
        counts = np.bincount(codes[codes >= 0], minlength=len(names))
        self.names = [names[n] for n in np.argsort(-counts, kind="stable").tolist()]
        self.sign = Choice("compared")
        self.sign.offer(((Sign.IS, "is", -1), (Sign.IS_NOT, "is not", -1)))
        self.sign.choose(Sign.IS)
        self.chips = Choice("values", several=True)
        self.chips.offer((name, name, -1) for name in self.names[:MOST_CHIPS])
        groups = groups_among(self.names) if self.variable.key == "cut" else []
        used = [*self.names, *groups]
        hint = "a few letters find it; several with commas between"
        self.value = TextField("Or type it", lambda *_: "", used=used, hint=hint)
        self.value.line.returnPressed.connect(self.keep)
        return self.sign, self.chips, self.value

    def wheres(self) -> tuple[Where, ...] | str:
        texts = [str(value) for value in self.chips.values()]
        typed = self.value.line.text().strip()
        whole = [name for name in self.names if name.casefold() == typed.casefold()]
        texts += whole or [part.strip() for part in typed.split(",") if part.strip()]
        if not texts:
            return f"{self.variable.label}: tap one, or type it."
        sign = next(iter(self.sign.values()), Sign.IS)
        return (Where(self.variable.key, Sign(str(sign)), tuple(dict.fromkeys(texts))),)


class _WordsPart(_Part):
    def widgets(self) -> Sequence[QWidget]:
        self.sign = Choice("compared")
        self.sign.offer(((Sign.IS, "has", -1), (Sign.IS_NOT, "has not", -1)))
        self.sign.choose(Sign.IS)
        self.value = TextField("Words of titles, questions and notes", lambda *_: "")
        self.value.line.returnPressed.connect(self.keep)
        return self.sign, self.value

    def wheres(self) -> tuple[Where, ...] | str:
        text = " ".join(self.value.line.text().split())
        if not text:
            return "Which words?"
        sign = next(iter(self.sign.values()), Sign.IS)
        return (Where(self.variable.key, Sign(str(sign)), (text,)),)


class _YesNoPart(_Part):
    def widgets(self) -> Sequence[QWidget]:
        self.chips = Choice(self.variable.label)
        self.chips.offer((("yes", "yes", -1), ("no", "no", -1)))
        self.chips.choose("yes")
        return (self.chips,)

    def wheres(self) -> tuple[Where, ...] | str:
        return (Where(self.variable.key, Sign.IS, (str(self.chips.values()[0]),)),)


class _NumberPart(_Part):
    def widgets(self) -> Sequence[QWidget]:
        dimension, system = self.variable.dimension, self.desk.system
        numbers = self.frame.numbers(self.variable.key)
        shown = np.asarray(to_display(numbers[np.isfinite(numbers)], dimension, system))
        self.chart = spread_of(self.variable, shown, system, 220)
        self.chart.brushed.connect(self._brushed)
        self.chart.chosen.connect(lambda place: self._brushed((place,)))
        self.low = QuantityField("From", dimension, system, lambda *_: "", hint="any")
        self.high = QuantityField("To", dimension, system, lambda *_: "", hint="any")
        for field in (self.low, self.high):
            field.line.returnPressed.connect(self.keep)
        ends = QWidget()
        ends.setLayout(row(self.low, self.high, space=tokens.M))
        return words("Brush over the bars, or type the ends.", "quiet"), self.chart, ends

    def _brushed(self, places: object) -> None:
        assert isinstance(places, tuple)
        for field, value in zip(
            (self.low, self.high), self.chart.brushed_range(places), strict=True
        ):
            stored = float(from_display(value, self.variable.dimension, self.desk.system))
            field.set_value(stored)

    def wheres(self) -> tuple[Where, ...] | str:
        for field in (self.low, self.high):
            field.commit()
            if field.problem:
                return field.problem
        low, high = self.low.value, self.high.value
        if isinstance(low, float) and isinstance(high, float):
            if low > high:
                return "The first end is above the second."
            return of_range(self.variable.key, low, high)
        if isinstance(low, float):
            return (Where(self.variable.key, Sign.AT_LEAST, (low,)),)
        if isinstance(high, float):
            return (Where(self.variable.key, Sign.AT_MOST, (high,)),)
        return f"{self.variable.label}: from what, or to what?"


class _TimePart(_Part):
    def widgets(self) -> Sequence[QWidget]:
        self.since = TextField("Since", lambda *_: "", hint="2025, 2025-08 or August 2025")
        self.until = TextField("Until, and all of it", lambda *_: "", hint="any")
        self.names = Choice("seasons and days", several=True)
        self.names.offer((name, name, -1) for name in (*SEASONS, *WEEKDAYS))
        for field in (self.since, self.until):
            field.line.returnPressed.connect(self.keep)
        return self.since, self.until, self.names

    def wheres(self) -> tuple[Where, ...] | str:
        found = []
        for field, sign in ((self.since, Sign.AT_LEAST), (self.until, Sign.AT_MOST)):
            text = field.line.text().strip()
            if not text:
                continue
            date = date_of(text)
            if date is None:
                return f"“{text[:40]}” is no date. Try 2025, 2025-08 or August 2025."
            found.append(Where(self.variable.key, sign, (date,)))
        names = tuple(str(name) for name in self.names.values())
        if names:
            found.append(Where(self.variable.key, Sign.IS, names))
        return tuple(found) or "Since when, or until when?"
