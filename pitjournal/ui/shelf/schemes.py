"""Scoring schemes on the Shelf: each version in a row, opened to read or to change."""

from collections import Counter
from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from pitjournal.domain.scheme import Scheme
from pitjournal.domain.tasting import Tasting
from pitjournal.files.schemes import USUAL, shipped, shipped_schemes
from pitjournal.journal.commands.schemes import (
    AddScheme,
    RemoveScheme,
    RetireScheme,
    new_version,
)
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.words import Problem, row, rule, words
from pitjournal.ui.shelf.scheme_editor import SchemeEditor


class SchemeRow(QWidget):
    """One version of a scheme: its name, where it stands, and what may be done with it."""

    def __init__(self, owner: "Schemes") -> None:
        super().__init__()
        self._owner = owner
        self._scheme: Scheme | None = None
        self._fixed = True
        self.name = words("", "strong", wrap=False)
        self.about = words("", "quiet")
        self.open = button("Open", self._turn, "link")
        self.version = button("New version", self._copy, "link")
        self.retire = button("Retire", self._retire, "link")
        self.away = button("×", self._remove, "link")
        self.editor = SchemeEditor(owner.desk)
        line = row(self.name, self.about, self.open, self.version, self.retire, self.away)
        line.setStretch(1, 1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 3, 0, 3)
        outer.setSpacing(0)
        outer.addLayout(line)
        outer.addWidget(self.editor)
        outer.addWidget(rule())

    def show_scheme(self, scheme: Scheme, used: int, *, comes: bool, opened: bool) -> None:
        """Show one: `used` by so many tastings, `comes` with the program."""
        self._scheme, self._fixed = scheme, comes or used > 0
        self.name.setText(scheme.title)
        self.about.setText(_standing(used, comes=comes, retired=scheme.retired))
        self.open.setText("Close" if opened else "Open")
        self.retire.setText("Bring back" if scheme.retired else "Retire")
        self.retire.setVisible(not comes)
        self.away.setVisible(not self._fixed)
        for made in (self.open, self.version, self.retire, self.away):
            made.tell_about(scheme.title)
        self.editor.setVisible(opened)
        if opened:
            self.editor.show_scheme(scheme, fixed=self._fixed)

    def _turn(self) -> None:
        if self._scheme is not None:
            self._owner.turn(self._scheme.id)

    def _copy(self) -> None:
        if self._scheme is not None:
            self._owner.copy(self._scheme)

    def _retire(self) -> None:
        if self._scheme is not None:
            self._owner.do(RetireScheme(self._scheme.id, retired=not self._scheme.retired))

    def _remove(self) -> None:
        if self._scheme is not None:
            self._owner.do(RemoveScheme(self._scheme.id))


def _standing(used: int, *, comes: bool, retired: bool) -> str:
    times = "one tasting" if used == 1 else f"{used} tastings"
    parts = ["comes with the program"] if comes else []
    parts += [f"used in {times}, so it stays as it is"] if used and not comes else []
    parts += ["retired"] if retired else []
    return ", ".join(parts) or "not used yet, so it can be changed"


class Schemes(QWidget):
    """All schemes; one of them open."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._opened = ""
        self.rows: list[SchemeRow] = []
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(0)
        self.problem = Problem()
        self._lines.addWidget(self.problem)

    def refresh(self) -> None:
        """Show what there is."""
        schemes = self.ordered()
        used = Counter(tasting.scheme_id for tasting in self.desk.journal.find(Tasting))
        comes = {scheme.id for scheme in shipped_schemes()}
        while len(self.rows) < len(schemes):
            made = SchemeRow(self)
            self.rows.append(made)
            self._lines.insertWidget(len(self.rows) - 1, made)
        for place, made in enumerate(self.rows):
            made.setVisible(place < len(schemes))
            if place < len(schemes):
                scheme = schemes[place]
                opened = scheme.id == self._opened
                here = scheme.id in comes
                made.show_scheme(scheme, used[scheme.id], comes=here, opened=opened)

    def ordered(self) -> Sequence[Scheme]:
        """Return the schemes by name, the newest version first; retired ones last."""
        schemes = self.desk.journal.shelf.schemes()
        first = {s.name.casefold(): n for n, s in reversed(list(enumerate(schemes)))}
        return sorted(schemes, key=lambda s: (s.retired, first[s.name.casefold()], -s.version))

    # what its taps do

    def turn(self, scheme_id: str) -> None:
        """Open a scheme, or close it."""
        self._opened = "" if self._opened == scheme_id else scheme_id
        self.refresh()

    def copy(self, scheme: Scheme) -> None:
        """Make the next version of a scheme and open it."""
        self._open_new(new_version(scheme))

    def add(self, name: str) -> str:
        """Add a scheme that starts as the home panel; return why not."""
        return self._open_new(AddScheme(Scheme(name=name, rules=shipped(USUAL).rules)))

    def _open_new(self, command: AddScheme) -> str:
        self._opened = command.scheme.id
        return self.do(command)

    def do(self, command: AddScheme | RetireScheme | RemoveScheme) -> str:
        """Do it, and say what is wrong."""
        problem = self.desk.bridge.attempt(command, self)
        self.problem.say(problem)
        return problem
