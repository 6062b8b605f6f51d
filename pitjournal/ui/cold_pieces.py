"""The pieces of a cook that were measured colder than their rule asks: worked out by a worker."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from pitjournal.domain.event import EventKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.bridge import Bridge

if TYPE_CHECKING:
    from pitjournal.analysis.safety.below import Below


class ColdPieces(QObject):
    """What is known of each cook that a page asked about, until that cook changes.

    Signals
    -------
    changed(str)
        There is something new of a cook.
    """

    changed = Signal(str)

    def __init__(self, bridge: Bridge, parent: QObject) -> None:
        super().__init__(parent)
        self._bridge = bridge
        self._known: dict[str, tuple[Below, ...]] = {}
        self._of: dict[str, WholeCook] = {}
        self._busy: set[str] = set()

    def found(self, cook_id: str) -> "tuple[Below, ...]":
        """Return such pieces of a cook, as they were last worked out."""
        return self._known.get(cook_id, ())

    def want(self, whole: WholeCook) -> None:
        """Work a cook out, unless it is this very one that is known; nothing before it is probed.

        Parameters
        ----------
        whole
            The cook as the page has it.
        """
        cook_id = whole.cook.id
        if self._of.get(cook_id) is whole:
            return
        self._of[cook_id] = whole
        if not whole.checks and not whole.happened(EventKind.OFF):
            self._take(cook_id, ())
        elif cook_id not in self._busy:
            self._work_out(whole)

    def _take(self, cook_id: str, found: "tuple[Below, ...]") -> None:
        if found != self.found(cook_id):
            self._known[cook_id] = found
            self.changed.emit(cook_id)

    def _work_out(self, whole: WholeCook) -> None:
        cook_id, journal = whole.cook.id, self._bridge.journal
        self._busy.add(cook_id)

        def work(_progress: object) -> "tuple[Below, ...]":
            return journal.findings.below(whole)

        def done(found: "tuple[Below, ...]") -> None:
            self._take(cook_id, found)

        def ended() -> None:
            self._busy.discard(cook_id)
            newest = self._of.get(cook_id, whole)
            if newest is not whole:
                self._work_out(newest)

        self._bridge.run(
            "Look what each piece reached",
            work,
            done,
            failed=lambda _why: None,
            asker=self,
            ended=ended,
            quiet=True,
        )
