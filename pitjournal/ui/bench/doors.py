"""What opens over the bench: panels, files and photos; the arms hidden, the window locked."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtGui import QDragEnterEvent, QDropEvent

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
from pitjournal.ui.bench.correct import TIMES, CorrectPanel
from pitjournal.ui.bench.day import DayCard
from pitjournal.ui.bench.feel_panel import FeelPanel
from pitjournal.ui.bench.fuel_panel import FuelPanel
from pitjournal.ui.bench.lock import Veil
from pitjournal.ui.bench.other_panel import Door, OtherPanel, WeatherPanel
from pitjournal.ui.bench.panels import WeighPanel, stage_now
from pitjournal.ui.bench.photos.photo_panel import PICTURES, PhotoPanel, dropped, keep_photos
from pitjournal.ui.bench.piece_selector import PieceSelector
from pitjournal.ui.bench.probes.probe_panel import read_and_show
from pitjournal.ui.bench.status_bar import DueCard
from pitjournal.ui.bench.tapped import last_tapped
from pitjournal.ui.bench.unsaved_taps import with_unsaved
from pitjournal.ui.cook.place import CookPage
from pitjournal.ui.desk import Desk
from pitjournal.ui.event_words import event_words, named_pieces
from pitjournal.ui.files_asked import Kind, open_files
from pitjournal.ui.look.parts.overlay import Overlay


class BenchDoors(CookPage):
    """The bench without its taps: a cook as this screen shows it, and what opens over it."""

    selector: PieceSelector
    due: DueCard
    day: DayCard

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setAcceptDrops(True)
        self._shown: WholeCook | None = None
        self._blind = False

    def log(self, kind: str, *too: Command, pieces: Sequence[str] | None = None) -> None:
        """Log that something happened now to the chosen pieces; `too` is the same step."""
        raise NotImplementedError

    def repeat(self) -> None:
        """Log again, now, what was logged last."""
        raise NotImplementedError

    # the cook as it is seen

    def see(self, whole: WholeCook) -> WholeCook:
        """Return a cook as this screen shows it: what waits, followed files, arms hidden or not."""
        held = with_unsaved(self.desk.follow.whole(whole), self.desk.bridge.waiting)
        return self.desk.seen(held)

    def _hide_arms(self) -> None:
        """Hide the arms on this screen, or show them again."""
        whole = self.whole
        if whole is not None:
            hide = not self._blind
            label = "Hide the arms at the bench" if hide else "Show the arms at the bench"
            choice = Choose(BLIND + whole.cook.id, "yes" if hide else "", label)
            self.desk.bridge.do(choice, self)

    def _lock(self) -> None:
        """Lock the window against stray touches."""
        if not self.window().findChildren(Veil):
            Veil(self.window())

    # what opens

    def _open(self, panel: Overlay) -> None:
        panel.open_panel()

    def _feel(self) -> None:
        whole = self._shown
        if whole is None or not whole.pieces:
            self.desk.bridge.refused.emit("There is no piece yet. Add one on the Plan.")
            return
        due = self.due.due
        wanted = due.pieces if due.tap == "feel" else self.selector.chosen
        first = next((p for p in whole.pieces if p.id in wanted), whole.pieces[0])
        self._open(FeelPanel(self.window(), self.desk, whole, first, self.see))

    def _weigh(self) -> None:
        whole = self._shown
        if whole is not None:
            stage = stage_now(whole, whole.pieces)
            self._open(WeighPanel(self.window(), self.desk, whole.cook.id, stage, self.see))

    def _fuel(self) -> None:
        self._open(FuelPanel(self.window(), self.desk, lambda: self._shown))

    def _weather(self) -> None:
        if self._shown is not None:
            self._open(WeatherPanel(self.window(), self.desk, self._shown.cook))

    def _other(self) -> None:
        whole = self._shown
        if whole is None:
            return
        last = last_tapped(whole)
        doors = [
            Door("Wood", "and fuel", self._fuel),
            Door("Weather", "by hand", self._weather),
            Door("Follow", "files", self._follow),
            Door("Show arms" if self._blind else "Hide arms", "on this screen", self._hide_arms),
        ]
        if whole.traces:
            chart = self.day.chart
            doors += [
                Door("What they say", "pit and meat", chart.say),
                Door("Save picture", "of the chart", chart.save),
            ]
            if len(chart.can) > 1:
                doors.append(Door("Line up", "by clock or moment", chart.line_up_next))
        doors += [
            Door("Probe files", "clocks, places", self._probe_files),
            Door("Read a file", "of a probe", self._read_probe),
        ]
        first = []
        if last is not None:
            what = f"{event_words(last).lower()}, {named_pieces(whole, last.pieces)}"
            first.append(Door("Again", what, self.repeat))
        meant = named_pieces(whole, self.selector.chosen)
        panel = OtherPanel(
            self.window(), self.desk, whole, self.log, first=first, more=doors, meant=meant
        )
        self._open(panel)

    def _photo(self) -> None:
        apart.prepare(*strangers.PHOTO_READERS)
        names = open_files(self, Kind.PHOTOS, "Photos", PICTURES)
        if names:
            self.add_photos([Path(name) for name in names])

    def add_photos(self, paths: Sequence[Path]) -> None:
        """Read photos off this thread, then keep them as one step."""
        if self._shown is not None:
            piece = self.selector.chosen[0] if len(self.selector.chosen) == 1 else None
            keep_photos(self.desk, self._shown.cook.id, paths, piece, self._show_photos)

    def _show_photos(self) -> None:
        self.day.turn("photos")

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()
            apart.prepare(*strangers.LOG_READERS, *strangers.PHOTO_READERS)

    def dropEvent(self, event: QDropEvent) -> None:
        """Keep dropped pictures; anything else is read as a probe file."""
        pictures, others = dropped(event.mimeData())
        if pictures:
            self.add_photos(pictures)
        if others and self._shown is not None:
            read_and_show(self.desk, self.window(), self._shown.cook.id, others[0])

    def _open_photo(self, photo: Photo) -> None:
        if self._shown is not None:
            self._open(PhotoPanel(self.window(), self.desk, self._shown, photo))

    def _read_probe(self) -> None:
        if self._shown is not None:
            self.desk.go("probe file", self._shown.cook.id)

    def _follow(self) -> None:
        from pitjournal.ui.bench.probes.follow_panel import FollowPanel  # noqa: PLC0415 - seldom needed

        if self._shown is not None:
            self._open(FollowPanel(self.window(), self.desk, self._shown))

    def _probe_files(self) -> None:
        if self._shown is not None:
            self.desk.go("probe files", self._shown.cook.id)

    def _alarms(self) -> None:
        from pitjournal.ui.bench.alarms.alarm_panel import AlarmPanel  # noqa: PLC0415 - numpy

        if self._shown is not None:
            self._open(AlarmPanel(self.window(), self.desk, self._shown, self.selector.chosen))

    # the log

    def _correct(self, record: Record) -> None:
        if self._shown is not None and type(record) in TIMES:
            self._open(CorrectPanel(self.window(), self.desk, self._shown, record))

    def _remove(self, record: Record) -> None:
        what = event_words(record).lower() if isinstance(record, Event) else "an entry"
        self.desk.bridge.do(Remove(type(record), record.id, f"Remove {what}"), self)

    def _mend(self, odd: Oddity) -> None:
        self.desk.bridge.do(repair_of(odd, self.desk.now()), self)
