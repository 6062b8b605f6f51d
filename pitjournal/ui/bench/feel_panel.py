"""The panel of probes and feels: piece after piece, by taps or digits."""

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from pitjournal.analysis.findings.leeway import piece_windows
from pitjournal.domain.event import FEEL_WORDS, DonenessCheck
from pitjournal.domain.piece import Piece
from pitjournal.domain.plausible import INSIDE
from pitjournal.domain.unlikely_inside import unlikely_inside
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.commands.bench import CheckDoneness
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.bounce import Bounce
from pitjournal.ui.look.parts.buttons import Tap, button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.fields import QuantityField, TextField
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.spoken import announce
from pitjournal.ui.look.parts.words import row, words
from pitjournal.units import Dimension, show

MOST_ROWS = 6
"""Pieces whose windows have room below the taps."""


AT_ONCE = 150
"""Milliseconds: no hand types a digit twice so fast, so that none of a temperature is lost."""


class FeelPanel(GlovePanel):
    """A probe and a feel, piece after piece: type the temperature, tap the feel."""

    LATER = 240

    def __init__(
        self,
        over: QWidget,
        desk: Desk,
        whole: WholeCook,
        first: Piece,
        see: Callable[[WholeCook], WholeCook],
    ) -> None:
        super().__init__(over, "Probe and feel", 720)
        self._desk, self._whole, self._see = desk, whole, see
        self._internal: float | None = None
        self._bounce = Bounce()
        self._typed = self._saved_for = ""
        self._asked: tuple[str, float | None, int | None] | None = None
        self.pieces = Choice("piece")
        self.pieces.offer((p.id, p.label, _mark(whole, p)) for p in whole.pieces)
        self.pieces.choose(first.id)
        self.pieces.chosen.connect(lambda *_: self._chosen())
        self.internal = QuantityField(
            "Internal temperature",
            Dimension.TEMPERATURE,
            desk.system,
            self._noted,
            within=INSIDE,
        )
        self.internal.line.returnPressed.connect(self._to_feel)
        self.internal.line.installEventFilter(self)
        used = ("middle", "thick end", "thin end", "between bones", "flat", "point")
        self.point = TextField("Where", lambda *_: "", used=used, hint="the same place each time")
        self.body.addWidget(self.pieces)
        line = row(self.internal, self.point, space=tokens.M)
        self.body.addLayout(line)
        self.body.addWidget(
            words(
                "How does it feel? Tap, or Enter and 1–7: 1–2 under, 3–5 right, 6–7 over", "heading"
            )
        )
        self.taps = []
        taps = row(space=tokens.S)
        for score, text in FEEL_WORDS.items():
            tap = Tap(str(score))
            tap.say_below(text.replace("just right, ", ""))
            tap.clicked.connect(self._keeper(score))
            self.taps.append(tap)
            taps.addWidget(tap)
        self.body.addLayout(taps)
        self.said = words("", "quiet")
        self.asks = words("", "error")
        self.asks.hide()
        below = row(self.said, button("Keep the temperature only", lambda: self._keep(None)))
        below.setStretch(0, 1)
        self.body.addLayout(below)
        self.body.addWidget(self.asks)
        self.windows = WindowChart()
        self.body.addWidget(self.windows)
        self._show()
        self.listen(desk.bridge.holding, self._hear_unsaved)

    def _hear_unsaved(self, count: int) -> None:
        """Say it anew once all that waited is saved."""
        if not count and self._saved_for:
            self._whole = self._see(self._desk.journal.whole(self._whole.cook.id))
            self._show()
            self.said.setText(f"✓ saved for {self._saved_for}. {self.said.text()}")

    def _chosen(self) -> None:
        """Show a piece that was chosen, with its temperature ready to be typed."""
        self._asked = None  # a question of the piece before waits no more
        self.asks.hide()
        self._show()
        self.internal.setFocus()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the temperature ready."""
        super().open_panel(first or self.internal)

    def _to_feel(self) -> None:
        """Go on from the temperature to the feel, which 1 to 7 give there."""
        if not self.internal.problem:
            self.taps[0].setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take 1 to 7 as the feel, where no field takes them as text."""
        if event.text() in {str(score) for score in FEEL_WORDS}:
            if not self._bounce.takes(event):
                self._keep(int(event.text()))
            return
        super().keyPressEvent(event)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the digit of a feel that bounces out of the next piece's temperature."""
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            typed = self.internal.line.text()
            if self._saved_for and not typed and self._bounce.takes(event, AT_ONCE):
                return True
        return super().eventFilter(watched, event)

    def _piece(self) -> Piece:
        chosen = self.pieces.values()
        return next(p for p in self._whole.pieces if p.id in chosen)

    def _show(self) -> None:
        checks = self._whole.checks_of(self._piece())
        last = checks[-1] if checks else None
        said = f"{self._piece().label} is not probed yet."
        if last is not None:
            at = show(last.internal, Dimension.TEMPERATURE, self._desk.system)
            feel = "" if last.feel is None else f", feel {last.feel}"
            said = f"{self._piece().label} before: {at}{feel}."
        self.said.setText(said)
        self._draw()

    def _draw(self) -> None:
        """Draw how long each piece was right so far: the chosen one, then the others felt."""
        rows = window_rows(self._whole, self._piece().id)
        self.windows.setVisible(bool(rows))
        self.windows.show_rows(rows)

    def _noted(self, value: object, typed: str) -> str:
        self._internal = value if isinstance(value, float) else None
        self._typed = typed
        return ""

    def _keeper(self, score: int) -> Callable[..., None]:
        return lambda *_: self._keep(score)

    def _keep(self, score: int | None) -> None:
        self.internal.commit()
        if self.internal.problem:
            return
        piece = self._piece()
        check = DonenessCheck(
            cook_id=self._whole.cook.id,
            piece_id=piece.id,
            at=self._desk.now(),
            internal=self._internal,
            feel=score,
            point=self.point.line.text().strip(),
            typed={"internal": self._typed} if self._internal is not None else {},
        )
        if self._is_to_ask(check):
            return
        problem = self._desk.bridge.attempt(CheckDoneness(check, f"Probe {piece.label}"), self)
        if problem:
            self.internal.say(problem)
            return
        self._internal = None
        self.internal.set_value(None)
        self._whole = self._see(self._desk.journal.whole(self._whole.cook.id))
        order = [p.id for p in self._whole.pieces]
        following = order[(order.index(piece.id) + 1) % len(order)]
        self.pieces.choose(following)
        self._show()
        tick = "Not saved yet" if self._desk.bridge.unsaved else "✓ saved"
        self._saved_for = piece.label
        self.said.setText(f"{tick} for {piece.label}. {self.said.text()}")
        self.internal.setFocus()

    def _is_to_ask(self, check: DonenessCheck) -> bool:
        """Ask about a probe that is unlikely; given once more, it is kept."""
        what = check.piece_id, check.internal, check.feel
        odd = unlikely_inside(self._whole, check)
        again, self._asked = self._asked == what, what
        ask = bool(odd) and not again
        if ask:
            shown = show(check.internal, Dimension.TEMPERATURE, self._desk.system)
            said = f"{self._piece().label}, {shown}: {odd}? Type it anew, or give the feel again."
            self.asks.setText(said)
            announce(self.asks, said, urgent=True)
            self.internal.setFocus()
            self.internal.line.selectAll()
        self.asks.setVisible(ask)
        return ask


def _mark(whole: WholeCook, piece: Piece) -> int:
    found = whole.arm_index(piece.arm_id)
    return -1 if found is None else found


def window_rows(whole: WholeCook, first: str) -> list[WindowRow]:
    """Return the bounds of the pieces that were right, min since the first feel, one first."""
    timed = [window for window in piece_windows(whole) if window.axis == "time"]
    found = [w for w in timed if w.first_right is not None or w.first_over is not None]
    found.sort(key=lambda window: window.piece_id != first)

    def minutes(seconds: float | None) -> float | None:
        return None if seconds is None else seconds / 60

    return [
        WindowRow(
            window.label,
            window.look,
            minutes(window.last_under),
            minutes(window.first_right),
            minutes(window.last_right),
            minutes(window.first_over),
            window.off_right,
        )
        for window in found[:MOST_ROWS]
    ]
