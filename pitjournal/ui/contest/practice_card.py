"""What practice brought to a category: findings carried in, and one's own tasters beside judges."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QVBoxLayout

from pitjournal.analysis.contests.beside import Beside, beside
from pitjournal.domain.contest import Carried, TurnIn
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.cuts import means
from pitjournal.domain.record import Record
from pitjournal.domain.times.moments import show_date
from pitjournal.journal.commands.contests import CarryInto
from pitjournal.journal.commands.records import Remove
from pitjournal.store.cook_list import CookLine
from pitjournal.ui.desk import Desk
from pitjournal.ui.destination import Destination
from pitjournal.ui.forms import ChoiceBox, Form, RecordRow, Rows
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.table import FactTable
from pitjournal.ui.look.parts.words import row, words
from pitjournal.units.figures import counted, figure, percent, trimmed

EMPTY = (
    "Say which practice cook’s findings were done here: this page, that cook’s findings and "
    "Trends then know what was changed before it was placed better."
)
HINT = "injected, wrapped in foil…"


class CarriedRow(RecordRow):
    """One practice cook: its name, what of it was carried in, and a way to take it out."""

    CALLED = "practice cook"

    def __init__(self, desk: Desk, named: Callable[[str], str]) -> None:
        super().__init__()
        self._desk, self._named = desk, named
        self.form = Form(desk, "what was carried in")
        self.link = button("", self._go, "link")
        self.what = self.form.text("what", "What was carried in", bare=True, hint=HINT)
        line = row(self.link, self.what, button("×", self._remove, "link", about="take it out"))
        line.setStretch(1, 1)
        line.setContentsMargins(0, 2, 0, 2)
        self.setLayout(line)

    def show_record(self, record: Record) -> None:
        """Show what was carried."""
        assert isinstance(record, Carried)
        self.link.setText(self._named(record.cook_id))
        self.form.show(record)

    def _go(self) -> None:
        record = self.form.record
        if isinstance(record, Carried):
            there = Destination(place="cook", cook_id=record.cook_id, page="findings")
            self._desk.go_to(there)

    def _remove(self) -> None:
        record = self.form.record
        if record is not None:
            self._desk.bridge.do(Remove(Carried, record.id, "Take out what was carried in"))


class PracticeCard(Card):
    """What was carried in from practice, and the panel beside the judges."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._turn_in: TurnIn | None = None
        self._titles: dict[str, str] = {}
        super().__init__("From practice")
        self.empty = words(EMPTY, "quiet")
        self.body.addWidget(self.empty)
        lines = QVBoxLayout()
        lines.setSpacing(0)
        self.body.addLayout(lines)
        self.rows = Rows(lines, lambda: CarriedRow(desk, lambda one: self._titles.get(one, "")))
        self.add = ChoiceBox("Carry in what a practice cook found", (), self._carry)
        self.body.addWidget(self.add)
        self.heading_beside = words("Your own tasters beside the judges", "heading")
        self.beside = FactTable("your tasters beside the judges")
        self.said = words("", "quiet")
        for part in (self.heading_beside, self.beside, self.said):
            self.body.addWidget(part)
        self.body.addStretch(1)

    def show_turn_in(self, turn_in: TurnIn) -> None:
        """Show a category's practice."""
        self._turn_in = turn_in
        journal = self._desk.journal
        lines = journal.cooks.page(most=max(1, journal.cooks.count()))
        self._titles = {line.id: f"{line.number} · {line.title}" for line in lines}
        self.rows.show(turn_in.carried)
        self.empty.setVisible(not turn_in.carried)
        offers = [line for line in lines if _may_teach(line, turn_in)]
        self.add.setVisible(bool(offers))
        first: list[tuple[object, str]] = [(None, "choose a cook")]
        self.add.offer((*first, *((line.id, _offered(line)) for line in offers)))
        self.add.set_value(None)
        self._show_beside(turn_in)

    def _show_beside(self, turn_in: TurnIn) -> None:
        cook_id = turn_in.category.cook_id
        found: Sequence[Beside] = ()
        if cook_id and turn_in.cards:
            found = beside(turn_in, self._desk.journal.whole(cook_id))
        for part in (self.heading_beside, self.beside, self.said):
            part.setVisible(bool(found))
        if not found:
            return
        rows = [
            (
                one.criterion,
                (_on_scale(one.judges, one.judges_scale), _on_scale(one.panel, one.panel_scale)),
            )
            for one in found
        ]
        self.beside.show_rows([("judges", None), ("your tasters", None)], rows)
        self.said.setText(" ".join(_apart(one) for one in found))

    def _carry(self, cook_id: object) -> str:
        turn_in = self._turn_in
        if turn_in is None or not isinstance(cook_id, str):
            return ""
        whole = self._desk.journal.whole(cook_id)
        said = whole.conclusion.text if whole.conclusion is not None else whole.cook.title
        label = f"Carry {whole.cook.title} into {turn_in.category.name}"
        command = CarryInto(turn_in.category.id, cook_id, " ".join(said.split()), label)
        return self._desk.bridge.attempt(command, self._desk)


def _may_teach(line: CookLine, turn_in: TurnIn) -> bool:
    """Whether a cook came before a contest, with such meat, and is not carried in yet."""
    category = turn_in.category
    known = {one.cook_id for one in turn_in.carried} | {category.cook_id}
    if line.id in known or line.status is not CookStatus.DONE:
        return False
    meat = category.meat or category.name
    before = line.starts_at < turn_in.contest.starts_at
    return before and any(means(cut, meat) for cut in line.cuts)


def _offered(line: CookLine) -> str:
    return f"{line.number} · {line.title} · {show_date(line.starts_at, line.zone)}"


def _on_scale(score: float, scale: tuple[float, float]) -> str:
    low, high = scale
    return f"{figure(score, 2)} of {trimmed(low)} to {trimmed(high)}"


def _apart(one: Beside) -> str:
    """Say by how much of the scale, from how many, judges and tasters lie apart."""
    share = round(abs(one.apart), 2)
    tasters = counted(one.tasters, "taster")
    if not share:
        return f"On {one.criterion} both agree ({one.cards} cards, {tasters})."
    who = "the judges gave more" if one.apart > 0 else "your tasters gave more"
    of = f"{percent(share)} of the scale"
    return f"On {one.criterion} {who}, by {of} ({counted(one.cards, 'card')}, {tasters})."
