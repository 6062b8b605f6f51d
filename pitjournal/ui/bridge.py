"""Between the journal and the widgets: one signal a change, errors said once, jobs awaited."""

import logging
from collections import Counter
from collections.abc import Callable, Collection
from typing import TypeVar

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QWidget
from shiboken6 import isValid

from pitjournal.errors import JournalError
from pitjournal.journal import Changes, Journal
from pitjournal.journal.commands import Command
from pitjournal.journal.jobs import CancelledJobError, Job, Progress
from pitjournal.store.build import taken_out_words
from pitjournal.store.faults import NotSavedError, refusal
from pitjournal.ui.collecting import collect_here

log = logging.getLogger(__name__)
T = TypeVar("T")

RETRY_EVERY = 2000
"""Milliseconds between tries to save what the disk refused."""

POLL_EVERY = 40
"""Milliseconds between looks at a job."""

SHOW_AFTER = 500
"""Milliseconds after which a job's progress is worth showing."""


PUT_AWAY = "put away"
"""The property of a panel that was closed and waits to be deleted."""


def is_there(asker: QObject) -> bool:
    """Whether a widget, or another object of Qt, is still there to be told something."""
    if not isValid(asker):
        return False
    return not (isinstance(asker, QWidget) and asker.window().property(PUT_AWAY))


class Bridge(QObject):
    """The one way from a tap to the journal and back.

    Signals
    -------
    changed(Changes)
        Something changed; views ask again for what they show.
    saved(str)
        A command was saved: what it did, in a cook's words.
    refused(str)
        A command was refused: one line with its hint.
    withdrawn(str)
        What was refused or told in these words holds no longer.
    told(str)
        Something worth a line that is neither.
    holding(int)
        How many commands wait on a disk that refused; 0 when all are saved.
    unseeing()
        Undo would take a reveal back, and asks first.
    elsewhere(str, str)
        Undo would change another cook than the one that is seen, and asks first: what it would
        undo, and the other's name.
    working(object)
        A `Job` that has taken longer than half a second, or None when it is over.
    """

    changed = Signal(object)
    saved = Signal(str)
    refused = Signal(str)
    withdrawn = Signal(str)
    told = Signal(str)
    holding = Signal(int)
    working = Signal(object)
    unseeing = Signal()
    elsewhere = Signal(str, str)

    def __init__(self, journal: Journal, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.seen_cook: Callable[[], str] = lambda: ""
        collect_here()
        self.journal = journal
        self._end = journal.subscribe(self.changed.emit)
        self._unsaved: list[tuple[Command, object | None]] = []
        self.why = ""
        self._retry = QTimer(self, interval=RETRY_EVERY)
        self._retry.timeout.connect(self.save_unsaved)
        self._waits: list[QTimer] = []
        self._told_of: dict[str, str] = {}
        self._told_out = len(journal.database.taken_out)  # what was there is said at the opening

    def do(self, command: Command, initiator: object | None = None) -> Changes | None:
        """Run a command; on failure say so, return None. What may still be saved is held."""
        try:
            return self._try(command, initiator)
        except JournalError as error:
            self.refused.emit(str(error))
            return None

    def attempt(self, command: Command, initiator: object | None = None) -> str:
        """Run a command for a field that shows its own error: return that, or an empty text.

        What the disk refused and is held is no error, for it is not to be typed again; whether
        all is saved says `unsaved` alone.
        """
        try:
            self._try(command, initiator)
        except NotSavedError as error:
            self.refused.emit(str(error))
            return str(error)
        except JournalError as error:
            return str(error)
        return ""

    def _try(self, command: Command, initiator: object | None) -> Changes | None:
        """Run a command, or hold it: where the disk refuses, and behind those that wait."""
        if self._unsaved:
            self._hold(command, initiator)
            return None
        try:
            changes = self.journal.do(command, initiator)
        except NotSavedError as error:
            if self.journal.read_only:
                raise
            self.why = str(error)
            self._hold(command, initiator)
            return None
        if changes:
            self.saved.emit(changes.label)
        self.tell_taken_out()
        return changes

    def tell_taken_out(self) -> None:
        """Say once what another program had put in that acts by itself: it was taken out."""
        out = self.journal.database.taken_out
        if len(out) > self._told_out:
            self._told_out = len(out)
            self.told.emit(taken_out_words(out))

    def _hold(self, command: Command, initiator: object | None) -> None:
        self._unsaved.append((command, initiator))
        self._retry.start()
        self.holding.emit(len(self._unsaved))

    @property
    def unsaved(self) -> tuple[str, ...]:
        """What waits to be saved, in words."""
        return tuple(command.label for command, _ in self._unsaved)

    @property
    def unsaved_by_name(self) -> list[str]:
        """What waits to be saved, each word once, with how many there are: "Log lid (3)"."""
        counts = Counter(self.unsaved)
        return [name if count == 1 else f"{name} ({count})" for name, count in counts.items()]

    @property
    def waiting(self) -> tuple[Command, ...]:
        """What waits to be saved, in order."""
        return tuple(command for command, _ in self._unsaved)

    def save_unsaved(self) -> None:
        """Try again to save what waits, in order."""
        while self._unsaved:
            command, initiator = self._unsaved[0]
            try:
                changes = self.journal.do(command, initiator)
            except NotSavedError as error:
                if str(error) != self.why:  # another reason than before
                    self.why = str(error)
                    self.holding.emit(len(self._unsaved))
                return
            except JournalError as error:
                refusal = str(error)
            else:
                refusal = ""
            self._unsaved.pop(0)  # before anything is said: who hears it asks what still waits
            self.holding.emit(len(self._unsaved))
            if refusal:
                self.refused.emit(refusal)
            elif changes:
                self.saved.emit(changes.label)
        self._retry.stop()

    def take_unsaved(self) -> list[tuple[Command, object | None]]:
        """Hand over what waits to be saved, for another journal to do."""
        held, self._unsaved = self._unsaved, []
        self._retry.stop()
        self.holding.emit(0)
        return held

    def drop_unsaved(self) -> None:
        """Give up what waits to be saved, because the cook said so."""
        self.take_unsaved()

    def undo(self) -> None:
        """Take back the newest step; a reveal, or one of a cook that is not seen, is asked about."""
        other = self._not_seen(self.journal.undo_concerns())
        if self.journal.undo_hides():
            self.unseeing.emit()
        elif other:
            self.elsewhere.emit(self.journal.steps()[0] or "", other)
        else:
            self.undo_at_any_rate()

    def _not_seen(self, cooks: Collection[str]) -> str:
        """Return the name of the cook that is concerned while another one is seen, or nothing."""
        seen = self.seen_cook()
        if not seen or seen in cooks or len(cooks) != 1:
            return ""
        lines = self.journal.cooks.lines(list(cooks))
        return f"cook {lines[0].number} · {lines[0].title}" if lines else ""

    def undo_at_any_rate(self) -> None:
        """Take back the newest step, whatever it is."""
        self._walk(self.journal.undo, "There is nothing to undo.")

    def redo(self) -> None:
        """Do the last undone step again."""
        self._walk(self.journal.redo, "There is nothing to do again.")

    def _walk(self, step: Callable[[], Changes | None], nothing: str) -> None:
        try:
            changes = step()
        except JournalError as error:
            self.refused.emit(str(error))
            return
        other = self._not_seen(changes.cooks) if changes else ""
        said = f"{changes.label} ({other})" if changes and other else ""
        self.saved.emit(said or (changes.label if changes else nothing))
        self.tell_taken_out()

    def run(
        self,
        label: str,
        work: Callable[[Progress], T],
        done: Callable[[T], None],
        failed: Callable[[str], None] | None = None,
        *,
        asker: QObject,
        ended: Callable[[], object] | None = None,
        quiet: bool = False,
    ) -> Job[T]:
        """Run long work off this thread, then `done` with its result on this one.

        Progress is shown after half a second, unless nobody waits for it (`quiet`). A
        `JournalError`, and what a disk refused, goes to `failed` or is said in the message bar; a
        bug is raised here, on the window's thread, where it is logged.

        Parameters
        ----------
        label, work
            What is done, in words, and the work itself.
        done, failed
            Take the result, or the line that says why there is none.
        asker
            Who waits for it: once it is put away or gone, the work is cancelled and nobody is
            called. For what goes on though its panel is closed, the desk.
        ended
            Called first of all however the work ended, also by a bug: the place to put away
            what says that it is under way.
        """
        job = self.journal.jobs.start(label, work)
        poll = QTimer(self, interval=POLL_EVERY)
        late = QTimer(self, interval=SHOW_AFTER, singleShot=True)
        late.timeout.connect(lambda: self.working.emit(job))
        if not quiet:
            late.start()

        def look() -> None:
            waits = is_there(asker)
            if waits and not job.future.done():
                return
            poll.stop()
            late.stop()
            if not quiet:
                self.working.emit(None)
            self._waits.remove(poll)
            poll.deleteLater()
            late.deleteLater()
            self.journal.jobs.sweep()
            if not waits:
                job.cancel()
                return
            if ended is not None:
                ended()
            self._finish(job, done, failed or self._teller(label, quiet=quiet))
            if quiet and not job.stopped and job.future.exception() is None:
                self.tell_over(label)

        poll.timeout.connect(look)
        self._waits.append(poll)
        poll.start()
        return job

    @staticmethod
    def _finish(job: Job[T], done: Callable[[T], None], failed: Callable[[str], None]) -> None:
        if job.future.cancelled():
            return
        error = job.future.exception()
        if isinstance(error, CancelledJobError):
            return
        told = error if isinstance(error, JournalError) else error and refusal(error)
        if told is not None:
            failed(str(told))
            return
        done(job.future.result())

    def _teller(self, label: str, *, quiet: bool) -> Callable[[str], None]:
        """Return what says why work failed: once, where nobody asked for it."""
        return (lambda why: self.tell_once(label, why)) if quiet else self.refused.emit

    def tell_once(self, label: str, why: str) -> None:
        """Say why something that goes on by itself cannot, once for all that have that reason.

        Nothing is said while something waits to be saved: that is said already, and comes first.
        """
        known = why in self._told_of.values()
        if self._unsaved and not known:
            return
        self._told_of[label] = why
        if not known:
            self.told.emit(why)

    def tell_over(self, label: str) -> None:
        """Take back what was said of something that goes on again, and of what has no name."""
        named = self._told_of.pop(label, "")
        why = self._told_of.pop("", "") or named
        if why and why not in self._told_of.values():
            self.withdrawn.emit(why)

    @property
    def waits(self) -> bool:
        """Whether a job is under way that someone waits for."""
        return bool(self._waits)

    def close(self) -> None:
        """Stop listening and waiting."""
        self._retry.stop()
        for poll in self._waits:
            poll.stop()
        self._waits.clear()
        self._end()
