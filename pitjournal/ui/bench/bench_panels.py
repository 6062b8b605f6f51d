"""What opens over the bench: panels, files and photos; the arms hidden, the window locked."""

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QDragEnterEvent
from PySide6.QtWidgets import QWidget

from pitjournal.domain.blind import SETTING as BLIND
from pitjournal.domain.event import Event, Photo
from pitjournal.domain.log_checks import Oddity
from pitjournal.domain.record import Record
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files import apart, strangers
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.bench import Choose
from pitjournal.journal.commands.records import Remove
from pitjournal.journal.log_repairs import repair_of
from pitjournal.ui.bench.ahead_panel import AheadPanel
from pitjournal.ui.bench.correct import TIMES, CorrectPanel
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.fuel_panel import FuelPanel
from pitjournal.ui.bench.lock import Veil
from pitjournal.ui.bench.model import Due
from pitjournal.ui.bench.other_panel import OtherPanel, OtherTap, WeatherPanel
from pitjournal.ui.bench.panels import WeighPanel, stage_now
from pitjournal.ui.bench.photos.photo_panel import PICTURES, PhotoPanel, dropped, keep_photos
from pitjournal.ui.bench.probes.probe_panel import read_and_show
from pitjournal.ui.bench.tapped import last_tapped
from pitjournal.ui.cook.day_chart import DayChart
from pitjournal.ui.desk import Desk
from pitjournal.ui.event_words import event_words, named_pieces
from pitjournal.ui.files_asked import FileKind, open_files
from pitjournal.ui.look.parts.overlay import Overlay


class Bench(Protocol):
    """The bench, as far as what opens over it needs to know.

    Attributes
    ----------
    whole, shown
        The cook as it is kept, and as this screen shows it; None before there is one.
    blind
        Whether the arms are hidden on this screen.
    """

    desk: Desk
    whole: WholeCook | None
    shown: WholeCook | None
    blind: bool

    @property
    def chosen(self) -> tuple[str, ...]:
        """The pieces the next tap is for."""

    @property
    def next_due(self) -> Due:
        """The next thing to do."""

    @property
    def chart(self) -> DayChart:
        """The chart of the day."""

    def window(self) -> QWidget:
        """Return the window it is in."""

    def see(self, whole: WholeCook) -> WholeCook:
        """Return a cook as this screen shows it."""

    def show_photos(self) -> None:
        """Turn to the photos."""

    def log(self, kind: str, *too: Command, pieces: Sequence[str] | None = None) -> None:
        """Log that something happened now to the chosen pieces; `too` is the same step."""

    def repeat(self) -> None:
        """Log again, now, what was logged last."""


class BenchPanels:
    """What opens over a bench."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench

    def hide_arms(self) -> None:
        """Hide the arms on this screen, or show them again."""
        whole = self._bench.whole
        if whole is not None:
            hide = not self._bench.blind
            label = "Hide the arms at the bench" if hide else "Show the arms at the bench"
            choice = Choose(BLIND + whole.cook.id, "yes" if hide else "", label)
            self._bench.desk.bridge.do(choice, self._bench)

    def lock(self) -> None:
        """Lock the window against stray touches."""
        if not self._bench.window().findChildren(Veil):
            Veil(self._bench.window())

    # what opens

    def open(self, panel: Overlay) -> None:
        """Show a panel."""
        panel.open_panel()

    def feel(self, pieces: Sequence[str] = ()) -> None:
        """Note how a piece feels: the one named or due, else the first one chosen."""
        whole = self._bench.shown
        if whole is None or not whole.pieces:
            self._bench.desk.bridge.refused.emit("There is no piece yet. Add one on the Plan.")
            return
        due = self._bench.next_due
        wanted = pieces or (due.pieces if due.tap == "feel" else self._bench.chosen)
        first = next((p for p in whole.pieces if p.id in wanted), whole.pieces[0])
        self.open(FeelPanel(self._bench.window(), self._bench.desk, whole, first, self._bench.see))

    def weigh(self) -> None:
        """Weigh pieces, at the stage the cook is at."""
        whole = self._bench.shown
        if whole is not None:
            stage = stage_now(whole, whole.pieces)
            self.open(
                WeighPanel(
                    self._bench.window(), self._bench.desk, whole.cook.id, stage, self._bench.see
                )
            )

    def fuel(self) -> None:
        """Note fuel and wood."""
        self.open(FuelPanel(self._bench.window(), self._bench.desk, lambda: self._bench.shown))

    def weather(self) -> None:
        """Note the weather."""
        if self._bench.shown is not None:
            self.open(WeatherPanel(self._bench.window(), self._bench.desk, self._bench.shown.cook))

    def own(self) -> None:
        """Note what has no field but one of the cook's own."""
        from pitjournal.ui.own.own_card import OwnPanel  # noqa: PLC0415 - seldom needed

        if self._bench.shown is not None:
            cook_id = self._bench.shown.cook.id
            self.open(OwnPanel(self._bench.window(), self._bench.desk, cook_id, self._bench.see))

    def paper(self) -> None:
        """Type in one go what stands on paper."""
        from pitjournal.ui.bench.paper_panel import PaperPanel  # noqa: PLC0415 - seldom needed

        if self._bench.shown is not None:
            self.open(PaperPanel(self._bench.window(), self._bench.desk, self._bench.shown))

    def other(self) -> None:
        """Offer what is done more seldom."""
        whole = self._bench.shown
        if whole is None:
            return
        last = last_tapped(whole)
        taps = [
            OtherTap("Wood", "and fuel", self.fuel),
            OtherTap("Weather", "by hand", self.weather),
            OtherTap("Your own", "variables", self.own),
            OtherTap("From paper", "many lines", self.paper),
            OtherTap("Follow", "files", self.follow),
            OtherTap(
                "Show arms" if self._bench.blind else "Hide arms", "on this screen", self.hide_arms
            ),
        ]
        if whole.traces:
            chart = self._bench.chart
            taps += [
                OtherTap("What they say", "pit and meat", chart.say),
                OtherTap("Save picture", "of the chart", chart.save),
            ]
            if len(chart.can) > 1:
                taps.append(OtherTap("Line up", "to a moment", chart.line_up_next))
        taps += [
            OtherTap("Probe files", "clocks, places", self.probe_files),
            OtherTap("Read a file", "of a probe", self.read_probe),
        ]
        first = []
        if last is not None:
            what = f"{event_words(last).lower()}, {named_pieces(whole, last.pieces)}"
            first.append(OtherTap("Again", what, self._bench.repeat))
        meant = named_pieces(whole, self._bench.chosen)
        panel = OtherPanel(
            self._bench.window(),
            self._bench.desk,
            whole,
            self._bench.log,
            first=first,
            more=taps,
            meant=meant,
        )
        self.open(panel)

    def photo(self) -> None:
        """Ask for photos, and add them."""
        apart.prepare(*strangers.PHOTO_READERS)
        names = open_files(self._bench.window(), FileKind.PHOTOS, "Photos", PICTURES)
        if names:
            self.add_photos([Path(name) for name in names])

    def add_photos(self, paths: Sequence[Path]) -> None:
        """Read photos off this thread, then keep them as one step."""
        if self._bench.shown is not None:
            piece = self._bench.chosen[0] if len(self._bench.chosen) == 1 else None
            keep_photos(
                self._bench.desk, self._bench.shown.cook.id, paths, piece, self._bench.show_photos
            )

    def take_files(self, event: QDragEnterEvent) -> None:
        """Say that files may be dropped, and make ready to read them."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()
            apart.prepare(*strangers.LOG_READERS, *strangers.PHOTO_READERS)

    def take_dropped(self, data: QMimeData) -> None:
        """Keep dropped pictures; anything else is read as a probe file."""
        pictures, others = dropped(data)
        if pictures:
            self.add_photos(pictures)
        if others and self._bench.shown is not None:
            cook_id = self._bench.shown.cook.id
            read_and_show(self._bench.desk, self._bench.window(), cook_id, others[0])

    def open_photo(self, photo: Photo) -> None:
        """Show a photo large."""
        if self._bench.shown is not None:
            self.open(PhotoPanel(self._bench.window(), self._bench.desk, self._bench.shown, photo))

    def read_probe(self) -> None:
        """Read a file of a probe."""
        if self._bench.shown is not None:
            self._bench.desk.go("probe file", self._bench.shown.cook.id)

    def follow(self) -> None:
        """Choose what files are followed."""
        from pitjournal.ui.bench.probes.follow_panel import FollowPanel  # noqa: PLC0415 - seldom needed

        if self._bench.shown is not None:
            self.open(FollowPanel(self._bench.window(), self._bench.desk, self._bench.shown))

    def probe_files(self) -> None:
        """Show the probe files, with their clocks and places."""
        if self._bench.shown is not None:
            self._bench.desk.go("probe files", self._bench.shown.cook.id)

    def ahead(self) -> None:
        """Show when it comes off, what that rests on, and what a change now would do."""
        whole, chosen = self._bench.shown, self._bench.chosen
        if whole is not None:
            only = chosen[0] if len(chosen) == 1 else ""
            self.open(AheadPanel(self._bench.window(), self._bench.desk, whole, only))

    def alarms(self) -> None:
        """Set an alarm."""
        from pitjournal.ui.bench.alarms.alarm_panel import AlarmPanel  # noqa: PLC0415 - numpy

        if self._bench.shown is not None:
            self.open(
                AlarmPanel(
                    self._bench.window(), self._bench.desk, self._bench.shown, self._bench.chosen
                )
            )

    # the log

    def correct(self, record: Record) -> None:
        """Correct a line of the log."""
        if self._bench.shown is not None and type(record) in TIMES:
            self.open(
                CorrectPanel(self._bench.window(), self._bench.desk, self._bench.shown, record)
            )

    def remove(self, record: Record) -> None:
        """Take a line of the log away."""
        what = event_words(record).lower() if isinstance(record, Event) else "an entry"
        self._bench.desk.bridge.do(Remove(type(record), record.id, f"Remove {what}"), self._bench)

    def mend(self, odd: Oddity) -> None:
        """Put right what is odd in the log."""
        self._bench.desk.bridge.do(repair_of(odd, self._bench.desk.now()), self._bench)
