"""Anything else at the bench: the last thing again, other events, a note, the weather."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtWidgets import QGridLayout, QLineEdit, QWidget

from pitjournal.domain.cook import Cook
from pitjournal.domain.day.schedule import StepKind
from pitjournal.domain.event import CUT_UP, Event, EventKind, Note
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.journal.commands.records import Add
from pitjournal.store.drafts import BENCH_WORDS
from pitjournal.ui.desk import Desk
from pitjournal.ui.forms import Form
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.pauses import Pauses
from pitjournal.ui.look.parts.words import row, words
from pitjournal.units import Dimension
from pitjournal.units.first_letter import capital

COLUMNS = 6
MOST_OWN = 6

KINDS = (
    EventKind.ROTATE,
    EventKind.UNWRAP,
    EventKind.GLAZE,
    EventKind.HELD,
    *CUT_UP,
)
"""Events that have no tap of their own on the bench."""


@dataclass(frozen=True)
class OtherTap:
    """A tap that does something: its word, the line below it, and what it does."""

    text: str
    below: str
    run: Callable[[], object]


class OtherPanel(GlovePanel):
    """Taps for what is seldom done, and lines for the cook's own words."""

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        whole: WholeCook,
        log: Callable[[str], None],
        *,
        first: Sequence[OtherTap],
        more: Sequence[OtherTap],
        meant: str,
    ) -> None:
        super().__init__(over, f"What happened? For {meant}", 760)
        self._desk, self._whole, self._log = desk, whole, log
        own = [k for k in desk.used(Event, "kind") if k not in set(EventKind)][:MOST_OWN]
        box = (StepKind.BOX_PHOTO, StepKind.WALK, StepKind.TURN_IN) if whole.turn_ins else ()
        own = [kind for kind in own if kind not in set(StepKind)]
        kinds = [OtherTap(capital(k), "", self._logger(k)) for k in (*KINDS, *box, *own)]
        self.taps: dict[str, Tap] = {}
        self._add([*first, *kinds])
        self.own = QLineEdit()
        self.own.setAccessibleName("something else")
        self.own.setPlaceholderText("Something else, such as: moved to the top shelf")
        self.own.returnPressed.connect(self._take_own)
        self.body.addLayout(row(self.own, button("Log it", self._take_own)))
        self.note = QLineEdit()
        self.note.setAccessibleName("note")
        self.note.setPlaceholderText("A note, word for word")
        self.note.returnPressed.connect(self._take_note)
        self.body.addLayout(row(self.note, button("Note it", self._take_note)))
        self._pauses = Pauses(self, self._keep)
        self._take_up()
        for line in (self.own, self.note):
            line.textEdited.connect(self._pauses.typed)
        self.body.addWidget(words("More", "heading", wrap=False))
        self._add(more)

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the line ready."""
        super().open_panel(first or self.own)

    def close_panel(self) -> None:
        """Put it away; what was typed and not logged waits here for the next time."""
        if self._pauses.waits:
            self._keep()
        super().close_panel()

    @property
    def _draft_id(self) -> str:
        return f"{BENCH_WORDS}{self._whole.cook.id}"

    def _take_up(self) -> None:
        """Write again what was typed here and never logged, also before a crash."""
        if self._desk.journal.read_only:
            return
        for draft in self._desk.journal.drafts.all():
            if draft["id"] == self._draft_id:
                self.own.setText(str(draft.get("what", "")))
                self.note.setText(str(draft.get("note", "")))

    def _keep(self) -> None:
        """Keep what stands in the lines; nothing where they are empty."""
        self._pauses.stop()
        if self._desk.journal.read_only:
            return
        what, note = self.own.text(), self.note.text()
        drafts = self._desk.journal.drafts
        try:
            if what.strip() or note.strip():
                drafts.keep({"id": self._draft_id, "what": what, "note": note})
            else:
                drafts.drop(self._draft_id)
        except JournalError as error:
            self._desk.bridge.tell_once("drafts", str(error))
        else:
            self._desk.bridge.tell_over("drafts")

    def _add(self, taps: Sequence[OtherTap]) -> None:
        grid = QGridLayout()
        grid.setSpacing(tokens.S)
        for place, one in enumerate(taps):
            tap = Tap(one.text)
            tap.say_below(one.below)
            tap.clicked.connect(self._opener(one.run))
            self.taps[one.text] = tap
            grid.addWidget(tap, place // COLUMNS, place % COLUMNS)
        for column in range(COLUMNS):
            grid.setColumnStretch(column, 1)
        self.body.addLayout(grid)

    def _opener(self, run: Callable[[], object]) -> Callable[..., None]:
        def take(*_: object) -> None:
            self.close_panel()
            run()

        return take

    def _logger(self, kind: str) -> Callable[[], None]:
        return lambda: self._log(str(kind))

    def _take_own(self) -> None:
        kind = self.own.text().strip()
        if kind:
            self.own.clear()
            self._keep()
            self.close_panel()
            self._log(kind)

    def _take_note(self) -> None:
        text = self.note.text().strip()
        if text:
            note = Note(cook_id=self._whole.cook.id, text=text, at=self._desk.now())
            self._desk.bridge.do(Add((note,), "Note"), self)
            self.note.clear()
            self._keep()
            self.close_panel()


class WeatherPanel(GlovePanel):
    """The weather, by hand."""

    def __init__(self, over: QWidget, desk: Desk, cook: Cook) -> None:
        super().__init__(over, "Weather", 620)
        form = Form(desk, "the weather")
        self.ambient = form.quantity("ambient", "Outside", Dimension.TEMPERATURE)
        self.wind = form.quantity("wind", "Wind", Dimension.SPEED)
        self.humidity = form.quantity("humidity", "Humidity", Dimension.FRACTION)
        self.sky = form.text(
            "weather",
            "In words",
            used=desk.used(Cook, "weather"),
            hint="sun, rain, wind on the door side",
        )
        self.body.addLayout(row(self.ambient, self.wind, self.humidity, space=tokens.M))
        self.body.addWidget(self.sky)
        form.show(cook)

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the temperature ready."""
        super().open_panel(first or self.ambient)
