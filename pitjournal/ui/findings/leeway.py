"""The leeway card: each piece's bounds along an axis, and what they come to for each way."""

from collections.abc import Sequence

from pitjournal.analysis.findings.leeway import NOT_BEFORE, NOT_PAST, ArmLeeway, span
from pitjournal.analysis.findings.leeway_model import Half, LeewayModel
from pitjournal.analysis.trade_words import in_letters, many
from pitjournal.ui.charts.window_chart import WindowChart, WindowRow
from pitjournal.ui.findings.model import Shown
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.table import FactTable, Head
from pitjournal.ui.look.parts.words import words
from pitjournal.units import Dimension, UnitSystem, show, show_interval, unit_label
from pitjournal.units.figures import figure
from pitjournal.units.first_letter import capital

AXES = (("time", "minutes"), ("temperature", "degrees"), ("hold", "in the box"))


class LeewayCard(Card):
    """Bounds as facts, drawn by piece; below them what they come to."""

    def __init__(self) -> None:
        super().__init__("How long each piece stayed right, by feel")
        self.axis = Choice("leeway in")
        self.axis.offer((key, text, -1) for key, text in AXES)
        self.axis.choose("time")
        self.axis.chosen.connect(lambda *_: self._draw())
        self.body.addWidget(self.axis)
        self.windows = WindowChart()
        self.body.addWidget(self.windows, 1)
        self.table = FactTable("how long each arm stays right")
        self.body.addWidget(self.table)
        self.note = words("", "quiet")
        self.body.addWidget(self.note)
        self._shown: Shown | None = None

    def show_leeway(self, shown: Shown) -> None:
        """Show a cook's leeway."""
        self._shown = shown
        self._draw()

    def _draw(self) -> None:
        shown = self._shown
        if shown is None:
            return
        axis = str(next(iter(self.axis.values()), "time"))
        self.windows.show_rows(*window_rows(shown, axis))
        heads, rows = leeway_table(shown, axis)
        self.table.show_rows(heads, rows)
        self.table.setVisible(bool(rows))
        self.note.setText(leeway_note(shown, axis))


def _dimension(axis: str) -> Dimension:
    return Dimension.TEMPERATURE_DIFFERENCE if axis == "temperature" else Dimension.DURATION


def window_rows(shown: Shown, axis: str) -> tuple[list[WindowRow], str]:
    """Return each piece's bounds along an axis, arm after arm, and the unit."""

    def scaled(value: float | None) -> float | None:
        if value is None:
            return None
        what = Dimension.TEMPERATURE if axis == "temperature" else Dimension.DURATION
        return shown.scaled(value, what)

    mine = [window for window in shown.found.windows if window.axis == axis]
    ordered = sorted(mine, key=lambda w: (w.look is None, w.look or 0))
    marks = [
        WindowRow(
            w.label,
            w.look,
            scaled(w.last_under),
            scaled(w.first_right),
            scaled(w.last_right),
            scaled(w.first_over),
            w.off_right,
        )
        for w in ordered
    ]
    degrees = unit_label(Dimension.TEMPERATURE, shown.system)
    return marks, degrees if axis == "temperature" else "min"


def leeway_table(shown: Shown, axis: str) -> tuple[list[Head], list[tuple[str, Sequence[str]]]]:
    """Return what is known of each way: bounds, then the half, then the model's estimate."""
    leeways = [leeway for leeway in shown.found.leeways if leeway.axis == axis]
    heads: list[Head] = [(leeway.arm, leeway.look) for leeway in leeways]
    if not any(leeway.pieces for leeway in leeways):
        return heads, []
    what, system = _dimension(axis), shown.system
    rows: list[tuple[str, Sequence[str]]] = [
        ("seen right, at least", [_span(leeway.least, what, system) for leeway in leeways]),
        ("at most", [_span(leeway.most, what, system) for leeway in leeways]),
    ]
    deeper = shown.deeper
    halves = {half.arm: half for half in deeper.halves.get(axis, ())} if deeper else {}
    if halves:
        cells = [_half(halves.get(leeway.arm), what, system) for leeway in leeways]
        rows.append(("half stop being right", cells))
    model = deeper.model(axis) if deeper else None
    if model is not None and model.known:
        rows += _estimates(model, leeways, what, system)
    return heads, rows


def _span(values: tuple[float, ...], what: Dimension, system: UnitSystem) -> str:
    bounds = span(values)
    if bounds is None:
        return "–"
    if bounds[0] == bounds[1]:
        return show(bounds[0], what, system)
    return show_interval(*bounds, what, system)


def _half(half: Half | None, what: Dimension, system: UnitSystem) -> str:
    if half is None:
        return "–"
    if half.before is None:
        return f"after {show(half.after, what, system)}"
    return show_interval(half.after, half.before, what, system)


def _estimates(
    model: LeewayModel, leeways: Sequence[ArmLeeway], what: Dimension, system: UnitSystem
) -> list[tuple[str, Sequence[str]]]:
    stays = {arm.arm: arm for arm in model.arms}
    medians, bounds, factors = [], [], []
    by_arm = {stretch.arm: stretch for stretch in model.stretches}
    for leeway in leeways:
        stay, stretch = stays.get(leeway.arm), by_arm.get(leeway.arm)
        medians.append("–" if stay is None else show(stay.median, what, system))
        bounds.append("–" if stay is None else _bounds(stay.low, stay.high, what, system))
        if stretch is None:
            factors.append("–")
        elif stretch.low is None or stretch.high is None:
            factors.append(f"× {figure(stretch.factor, 1)}")
        else:
            factors.append(
                f"× {figure(stretch.factor, 1)} ({figure(stretch.low, 1)} to {figure(stretch.high, 1)})"
            )
    rows: list[tuple[str, Sequence[str]]] = [("estimate, half", medians), ("95 % interval", bounds)]
    if by_arm:
        rows.append(("against the control", factors))
    return rows


def _bounds(low: float | None, high: float | None, what: Dimension, system: UnitSystem) -> str:
    if low is not None and high is not None:
        return show_interval(low, high, what, system)
    if low is not None:
        return f"{show(low, what, system)} or more"
    if high is not None:
        return f"up to {show(high, what, system)}"
    return "none"


def leeway_note(shown: Shown, axis: str) -> str:
    """Return what the table rests on, and what is missing."""
    leeways = [leeway for leeway in shown.found.leeways if leeway.axis == axis]
    felt = [leeway for leeway in leeways if leeway.pieces]
    unseen = {leeway.reason for leeway in felt}
    if len(unseen) == 1 and unseen <= {NOT_BEFORE, NOT_PAST}:
        return f"How far it would go is {unseen.pop()}."
    reasons = dict.fromkeys(leeway.reason for leeway in leeways if leeway.reason)
    said = [f"{capital(reason)}." for reason in reasons if reason not in {NOT_BEFORE, NOT_PAST}]
    said += [
        f"{leeway.arm}: {leeway.reason}."
        for leeway in felt
        if leeway.reason in {NOT_BEFORE, NOT_PAST}
    ]
    model = shown.deeper.model(axis) if shown.deeper else None
    if model is None or not felt:
        return " ".join(said)
    where = "this cook" if model.cooks == 1 else f"{in_letters(model.cooks)} cooks with this cut"
    if model.known:
        pieces = sum(arm.pieces for arm in model.arms)
        said.insert(0, f"Estimate from {pieces} {many(shown.found.noun)} of {where}, {model.law}.")
        said += [
            f"{stretch.arm} against the control: not enough to tell."
            for stretch in model.stretches
            if not stretch.tells
        ]
    elif shown.deeper is not None and shown.deeper.halves.get(axis):
        said.insert(0, f"The half is a bound from {where}, whatever the shape of the times.")
    return " ".join((*said, *(f"{capital(lack)}." for lack in model.lacks)))
