"""A cook that is begun and not started: kept while it is typed, offered again afterwards."""

import uuid
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.times.moments import show_moment
from pitjournal.errors import JournalError
from pitjournal.store.drafts import BENCH_WORDS, Draft
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.pauses import Pauses
from pitjournal.ui.look.parts.words import row, words

TITLE = "title"


class Begun(QWidget):
    """One line that offers the newest cook begun before, and the keeping of this one.

    What is begun here has an id of its own until it is started, so that beginning something
    else never writes over it.

    Parameters
    ----------
    desk
        Whose journal keeps it.
    typed
        Returns what stands on the page; nothing where that is as it was at first.
    take
        Puts such a thing back on the page.
    zone
        Returns the zone in which the time is said.

    Signals
    -------
    settled()
        What was offered was taken or thrown away: the keys go on with the page.
    """

    settled = Signal()

    def __init__(
        self,
        desk: Desk,
        typed: Callable[[], Mapping[str, Any]],
        take: Callable[[Draft], None],
        zone: Callable[[], str],
    ) -> None:
        super().__init__()
        self._desk, self._typed, self._take, self._zone = desk, typed, take, zone
        self._id = _new_id()
        self._offered: Draft | None = None
        self._pauses = Pauses(self, self.keep)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(tokens.XL, tokens.S, tokens.XL, 0)
        self.says = words("")
        self.go_on = button("Go on with it", self._go_on)
        self.forget = button("Throw it away", self._forget, "link")
        self.problem = words("", "error")
        line = row(self.says, self.go_on, self.forget, space=tokens.M)
        line.setStretch(0, 1)
        outer.addLayout(line)
        outer.addWidget(self.problem)
        self.hide()  # until it is offered: nothing is shown before it is on the page

    def typed(self, *_: object) -> None:
        """Hear that something was typed or chosen."""
        self._pauses.typed()

    def keep(self) -> None:
        """Keep what stands on the page now."""
        self._pauses.stop()
        if self._desk.journal.read_only:
            return
        stands = dict(self._typed())
        if not stands:
            self._drop(self._id)
            return
        made_at = self._desk.now().isoformat()
        self._try(lambda: self._desk.journal.drafts.keep({**stands, "id": self._id, "at": made_at}))

    def keep_what_waits(self) -> None:
        """Keep at once what was typed since it was last kept."""
        if self._pauses.waits:
            self.keep()

    def begin_anew(self) -> None:
        """Leave what was begun as it is kept, and begin something else."""
        self.keep_what_waits()
        self._id = _new_id()
        self.offer()

    def started(self) -> None:
        """Forget what was begun: it is a cook now."""
        self._pauses.stop()
        self._drop(self._id)

    def offer(self) -> None:
        """Offer the newest that was begun before and is not on the page."""
        there = [] if self._desk.journal.read_only else self._desk.journal.drafts.all()
        others = [
            one for one in there if one["id"] != self._id and not one["id"].startswith(BENCH_WORDS)
        ]
        self._offered = others[-1] if others else None
        if self._offered is not None:
            self.says.setText(self._draft_words(self._offered, len(others) - 1))
        for part in (self.says, self.go_on, self.forget):
            part.setVisible(self._offered is not None)
        self._appear()

    def _appear(self) -> None:
        self.problem.setVisible(bool(self.problem.text()))
        self.setVisible(self._offered is not None or bool(self.problem.text()))

    def _draft_words(self, draft: Draft, more: int) -> str:
        title = str(draft.get(TITLE) or "a cook without a title")[:80]
        beside = f" {more} more wait behind it." if more > 1 else ""
        beside = beside or (" One more waits behind it." if more else "")
        try:
            at = datetime.fromisoformat(str(draft.get("at")))
            when = f", {show_moment(at, self._zone(), self._desk.now())}"
        except (ValueError, TypeError):
            when = ""
        return f"Begun and not started{when}: “{title}”.{beside}"

    def _go_on(self) -> None:
        draft = self._offered
        if draft is None:
            return
        self.keep_what_waits()
        self._id = draft["id"]
        self._take(draft)
        self._pauses.stop()
        self.offer()
        self.settled.emit()

    def _forget(self) -> None:
        if self._offered is not None:
            self._drop(self._offered["id"])
        self.offer()
        self.settled.emit()

    def _drop(self, draft_id: str) -> None:
        if not self._desk.journal.read_only:
            self._try(lambda: self._desk.journal.drafts.drop(draft_id))

    def _try(self, work: Callable[[], None]) -> None:
        """Write, or say beside it why what stands here is not kept yet."""
        try:
            work()
        except JournalError as error:
            self.problem.setText(str(error))
        else:
            self.problem.setText("")
        self._appear()


def _new_id() -> str:
    return uuid.uuid4().hex
