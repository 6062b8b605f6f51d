"""When a piece comes off, what that rests on, and what a change now would do to it."""

from datetime import datetime, timedelta

from PySide6.QtWidgets import QWidget

from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import ComesOff, Outlook
from pitjournal.journal.queries.left_out import left_out_words
from pitjournal.ui.bench.ahead import chance_words, why_not
from pitjournal.ui.desk import Desk
from pitjournal.ui.forecasts import CAUTION, LATER
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import GlovePanel
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import words
from pitjournal.units import Dimension, UnitSystem, show

Row = tuple[str, tuple[str, ...]]


class AheadPanel(GlovePanel):
    """One piece at a time: its times, and what if. What takes long is worked out by a job."""

    def __init__(self, over: QWidget, desk: Desk, whole: WholeCook, piece_id: str = "") -> None:
        super().__init__(over, "When it comes off", 760)
        self._desk, self._whole = desk, whole
        self._found = {one.piece_id: one for one in desk.forecasts.found(whole.cook.id)}
        self.choice = Choice("piece")
        arms = {piece.id: whole.arm_index(piece.arm_id) for piece in whole.pieces}
        self.choice.offer((one, it.label, arms.get(one)) for one, it in self._found.items())
        self.choice.chosen.connect(lambda one: self.turn(str(one)))
        self.body.addWidget(self.choice)
        self.choice.setVisible(len(self._found) > 1)  # once it has a place: no window of its own
        self.times = FactTable("when it comes off")
        self.heading = words("What if, from now on", "heading", wrap=False)
        self.changes = FactTable("what if")
        self.told, self.rests = words("", "quiet"), words("", "quiet")
        for part in (self.times, self.rests, self.heading, self.changes, self.told):
            self.body.addWidget(part)
        self.body.addWidget(words(CAUTION, "quiet"))
        self._piece = ""
        self.turn(piece_id if piece_id in self._found else next(iter(self._found), ""))

    def turn(self, piece_id: str) -> None:
        """Show a piece."""
        self._piece = piece_id
        one = self._found.get(piece_id)
        if one is None:
            self._refuse("No piece that is on has a probe, so nobody can say when it comes off.")
            return
        self.choice.choose(piece_id)
        if one.likely is None:
            self._refuse(why_not(one.refused) or "It is at its target.")
            return
        self._show(one, None)
        known = self._desk.forecasts.outlook(self._whole.cook.id)
        if known is not None and known.piece_id == piece_id:
            self._show(one, known)
            return
        self._say("What a change would do is being worked out…")
        whole, journal = self._whole, self._desk.journal

        def done(outlook: Outlook | None) -> None:
            if self._piece == piece_id:
                self._show(one, outlook)

        self._desk.bridge.run(
            "Work out what a change would do",
            lambda _: journal.outlook(whole, piece_id),
            done,
            failed=self._say,
            asker=self,
            quiet=True,
        )

    def _say(self, said: str) -> None:
        self.told.setText(said)
        self.told.setVisible(bool(said))

    def _refuse(self, why: str) -> None:
        for part in (self.times, self.rests, self.heading, self.changes):
            part.hide()
        self._say(why)

    def _show(self, one: ComesOff, outlook: Outlook | None) -> None:
        rows = self._times(one)
        changes = self._changes(one, outlook)
        if outlook is not None and outlook.stall_begins is not None:
            rows.append(("Stall", (self._stall(outlook),)))
        gone = left_out_words(self._desk.journal)
        self.rests.setText(f"It rests on: {'; '.join(one.rests_on)}. {gone}".strip())
        self.times.show_rows([("", None)], rows)
        self.times.show()
        self.rests.show()
        self.changes.show_rows([("then", None), ("most likely off", None)], changes)
        for part in (self.heading, self.changes):
            part.setVisible(bool(changes))
        self._say("" if changes or outlook is None else "No change can be worked out.")

    def _times(self, one: ComesOff) -> list[Row]:
        degrees = show(one.target, Dimension.TEMPERATURE, self._desk.system)
        where = ", where yours felt right" if one.by_feel else ""
        rows: list[Row] = [
            ("For", (f"{degrees}{where}",)),
            ("Most likely", (self._clock(one.likely),)),
            ("One chance in two", (self._span(one.early, one.late),)),
            ("Nine in ten", (self._span(one.surely_early, one.surely_late),)),
        ]
        if one.in_time is not None:
            rows.append(("In time", (chance_words(one.in_time),)))
        if one.probe_from is not None:
            rows.append(("Start probing", (self._clock(one.probe_from),)))
        return rows

    def _changes(self, one: ComesOff, outlook: Outlook | None) -> list[Row]:
        assert one.likely is not None
        rows: list[Row] = []
        for what in outlook.what_ifs if outlook is not None else ():
            minutes = round(what.minutes)
            span = show(60.0 * abs(minutes), Dimension.DURATION, UnitSystem.US)
            how = f"{span} {'earlier' if minutes < 0 else 'later'}" if minutes else "no change"
            then = self._clock(one.likely + timedelta(minutes=minutes))
            rows.append((f"If {what.change}", (how, then)))
        return rows

    def _stall(self, outlook: Outlook) -> str:
        """Return from when to when it stalls: behind it, under way, or to come."""
        begins, ends = self._clock(outlook.stall_begins), self._clock(outlook.stall_ends)
        if outlook.stall_ends is not None and outlook.stall_ends <= self._desk.now():
            return f"{begins} to {ends}, over"
        return f"since {begins}, to {ends}" if outlook.stalled else f"from {begins} to {ends}"

    def _clock(self, at: datetime | None) -> str:
        return LATER if at is None else show_moment(at, self._whole.cook.zone, self._desk.now())

    def _span(self, early: datetime | None, late: datetime | None) -> str:
        return f"{self._clock(early)} to {self._clock(late)}"
