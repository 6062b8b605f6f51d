"""A bundle of cooks before it is taken over: what is new, the same, and otherwise here."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtWidgets import QGridLayout, QWidget

from pitjournal.domain.cook import Cook
from pitjournal.domain.times.moments import show_date
from pitjournal.files import strangers
from pitjournal.files.bundle import Unpacked
from pitjournal.files.places import name_of
from pitjournal.journal.bundles.alike import Changed
from pitjournal.journal.bundles.incoming import Incoming, Otherwise, incoming
from pitjournal.journal.commands.bundle import BringBundle
from pitjournal.journal.jobs import Progress
from pitjournal.ui.bridge import is_there
from pitjournal.ui.desk import Desk
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay, open_alone
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.units.figures import counted
from pitjournal.units.first_letter import capital

SHOWN = 8
"""Lines of one sort that are shown; all the rest is counted."""

MINE, THEIRS = "mine", "theirs"


@dataclass(frozen=True)
class _Looked:
    """A bundle, and what it would do."""

    path: Path
    found: Incoming


def read_bundle(
    desk: Desk,
    page: QWidget,
    path: Path,
    brought: Callable[[Sequence[str]], None],
    failed: Callable[[str], None],
) -> None:
    """Read a bundle on the worker and show what it would bring; why not, where it cannot be.

    Parameters
    ----------
    desk, page
        Who asks, and the page that the panel opens over.
    path
        Where it lies.
    brought
        Called with the ids of the cooks that came along.
    failed
        Called with one line where it cannot be read.
    """
    journal, name = desk.journal, name_of(path)

    def work(progress: Progress) -> _Looked:
        def wanted() -> None:
            progress.report(None, name)

        wanted()
        return _Looked(path, incoming(journal, strangers.bundle(path, wanted), name))

    def done(looked: _Looked) -> None:
        if is_there(page):
            open_alone(BundlePanel(desk, page.window(), looked, brought))

    desk.bridge.run(f"Read {name}", work, done, failed, asker=page)


_BY_WHOM = (
    ("Changed there alone, and taken", (Changed.THERE,)),
    ("Changed here alone; stays unless you take theirs", (Changed.HERE,)),
    ("Not the same here and there", (Changed.BOTH, Changed.UNKNOWN)),
)
"""What differs, under a head that says what becomes of it."""


class BundlePanel(Overlay):
    """What a bundle would bring, and the button that takes it over."""

    def __init__(
        self,
        desk: Desk,
        over: QWidget,
        looked: _Looked,
        brought: Callable[[Sequence[str]], None],
    ) -> None:
        super().__init__(over, looked.found.title or name_of(looked.path), 720)
        self._desk, self._looked, self._brought = desk, looked, brought
        found = looked.found
        self.body.addWidget(words(_summed_up(found)))
        self._cooks(found.cooks)
        self.take = Choice("what becomes of fields that differ")
        self.take.offer(((MINE, "keep mine", -1), (THEIRS, "take theirs", -1)))
        self.take.choose(MINE)
        self.take.chosen.connect(lambda *_: self._say_what())
        if found.otherwise:
            for head, changed in _BY_WHOM:
                lines = [_differs(desk, one) for one in found.by(*changed)]
                self._list(head, lines, len(lines))
            self.body.addWidget(self.take)
        left = [f"{one.table}, row {one.row}: {one.why}" for one in found.left]
        self._list("Rows that cannot be read, and stay out", left, len(left))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.keep = button("Keep", self._keep, "primary")
        self.body.addLayout(row(self.keep, button("Leave it", self.close_panel), None))
        self._say_what()

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the button ready."""
        super().open_panel(first or self.keep)

    def _cooks(self, cooks: Sequence[Cook]) -> None:
        """List new cooks, the days in a column."""
        if not cooks:
            return
        self.body.addWidget(words("New", "heading"))
        grid = QGridLayout()
        grid.setHorizontalSpacing(tokens.M)
        grid.setVerticalSpacing(tokens.XS // 2)
        grid.setColumnStretch(1, 1)
        for place, cook in enumerate(cooks[:SHOWN]):
            day = show_date(cook.starts_at, cook.zone)
            grid.addWidget(words(day, "quiet", wrap=False, tabular=True), place, 0)
            grid.addWidget(words(cook.title or "a cook"), place, 1)
        if len(cooks) > SHOWN:
            grid.addWidget(words(f"and {len(cooks) - SHOWN} more"), SHOWN, 1)
        self.body.addLayout(grid)

    def _list(self, head: str, lines: Sequence[str], count: int) -> None:
        if not lines:
            return
        shown = list(lines[:SHOWN])
        if count > SHOWN:
            shown.append(f"and {count - SHOWN} more")
        self.body.addWidget(words(head, "heading"))
        self.body.addWidget(words("\n".join(shown)))

    def _say_what(self) -> None:
        found = self._looked.found
        theirs = THEIRS in self.take.values()
        changes = bool(found.otherwise if theirs else found.by(Changed.THERE))
        if found.cooks:
            said = f"Keep {counted(len(found.cooks), 'cook')}"
        elif not found.nothing_new:
            said = "Keep what is new"
        else:
            said = "All of it is here already"
            if changes:
                said = "Take theirs" if theirs else "Take what changed there alone"
        self.keep.setText(said)
        self.keep.setEnabled(changes or not found.nothing_new)

    def _keep(self) -> None:
        found, path, journal = self._looked.found, self._looked.path, self._desk.journal
        theirs = THEIRS in self.take.values()
        self.keep.setEnabled(False)

        def work(progress: Progress) -> BringBundle | None:
            with Unpacked(path) as unpacked:
                return found.kept(journal, unpacked, theirs=theirs, progress=progress)

        def done(command: BringBundle | None) -> None:
            if command is None or self._desk.bridge.do(command, self) is None:
                self._ready_again()
                return
            if is_there(self):
                self.close_panel()
            self._brought([cook.id for cook in found.cooks] or _cooks_of(found.otherwise))

        def failed(why: str) -> None:
            if is_there(self):
                self.problem.say(why)
            self._ready_again()

        self._desk.bridge.run("Keep the files of a bundle", work, done, failed, asker=self._desk)

    def _ready_again(self) -> None:
        if is_there(self):
            self.keep.setEnabled(True)


def _summed_up(found: Incoming) -> str:
    parts = [
        f"{counted(len(found.cooks), 'new cook', none='no')}, {counted(found.same, 'cook', none='no')} just as here."
    ]
    if found.added:
        parts.append(f"{counted(found.added, 'record')} more with them.")
    if found.lost:
        parts.append(f"{counted(found.lost, 'file')} that its cooks name are not in it.")
    parts.append("One Undo takes all of it out again.")
    said = " ".join(parts)
    return capital(said)


def _differs(desk: Desk, one: Otherwise) -> str:
    """Return a line for a field that differs: of which cook, what it is here and there."""
    cooks = desk.journal.find(Cook, id=one.cook_id) if one.cook_id else []
    whose = f"{cooks[0].title}: " if cooks else ""
    what = f"{one.kind} {one.field}".replace("_", " ")
    if not isinstance(one.value, str | int | float | None):
        return f"{whose}{what} is not the same"
    return f"{whose}{what} is {one.mine or 'empty'} here, {one.theirs or 'empty'} there"


def _cooks_of(otherwise: Sequence[Otherwise]) -> list[str]:
    return list(dict.fromkeys(one.cook_id for one in otherwise if one.cook_id))
