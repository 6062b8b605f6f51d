"""An answer as charts: which marks there are, and which cooks are behind each."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from pitjournal.analysis.trends.answer import FEW, Answer, Group
from pitjournal.analysis.trends.arm_looks import looks_of_groups
from pitjournal.analysis.trends.columns.cook_means import CookMeans, cook_means_of
from pitjournal.analysis.trends.columns.grouping import Places
from pitjournal.analysis.trends.columns.lines import Floats
from pitjournal.analysis.trends.columns.round_steps import FEWEST, counts_in, round_steps
from pitjournal.analysis.trends.columns.row_selection import SelectedRows, select_rows
from pitjournal.analysis.trends.inference.agreement import scored_twice
from pitjournal.analysis.trends.picture import numbers_in, picture_of, times_in, without
from pitjournal.analysis.trends.question import Picture
from pitjournal.domain.catalogue import Catalogue, Level, Variable
from pitjournal.ui.charts.groups_chart import GroupMark, GroupsChart, span_of
from pitjournal.ui.charts.heat_chart import HeatCell, HeatChart
from pitjournal.ui.charts.marks_chart import MarksChart
from pitjournal.ui.charts.scatter_chart import Cloud, ScatterChart, spans_of
from pitjournal.ui.charts.spread_chart import SpreadChart, SpreadStep
from pitjournal.ui.look.tokens import SERIES, series
from pitjournal.units import Dimension, UnitSystem, from_display, show, to_display, unit_label
from pitjournal.units.figures import counted, trimmed

MOST_PANELS = 12
MOST_MARKS, MOST_MOMENTS = 60, 400
"""So many marks stand side by side, or follow each other over time, on all panels together."""

LEAST_MARKS = 30
"""A panel has room for so many."""

MOST_LINES, MOST_COLUMNS = 40, 24
"""Of a heat table."""

MOST_SERIES = 8
SQUARE = 400
"""The height of a picture with the same scale along and up, px."""

ALL = "all cooks"


@dataclass(frozen=True)
class CooksOfMark:
    """What a mark stands for: its words, its cooks, its group, and its stretch of a number.

    `span` is in the storage unit of the variable along the foot; None where groups stand there.
    """

    words: str
    cook_ids: Sequence[str]
    key: tuple[str, ...] = ()
    span: tuple[float, float] | None = None


@dataclass
class Drawing:
    """Charts under headings, what is behind each mark, and the series of the legend.

    Attributes
    ----------
    along
        The key of the number along the foot, where marks have a stretch of it.
    drawn
        How many groups there was room for.
    twice
        Whether the two numbers are scores of the same pieces, each a mark.
    """

    picture: Picture
    panels: list[tuple[str, MarksChart]] = field(default_factory=list)
    behind: list[Sequence[CooksOfMark]] = field(default_factory=list)
    series: dict[str, int] = field(default_factory=dict)
    along: str = ""
    drawn: int = 0
    twice: bool = False


class Drawer:
    """Draws one answer."""

    def __init__(
        self,
        answer: Answer,
        catalogue: Catalogue,
        system: UnitSystem,
        arm_looks: Mapping[str, int] | None = None,
    ) -> None:
        self.arm_looks = arm_looks or {}
        self.answer, self.frame = answer, answer.frame
        self.catalogue, self.system = catalogue, system
        self.question = answer.question
        self.what = answer.measure
        self.unit = unit_label(self.what.dimension, system)
        self._place_looks: dict[str, int] = {}

    def draw(self) -> Drawing:
        """Return the charts of the picture that fits, or was asked for."""
        picture = picture_of(self.question, self.catalogue, len(self.answer.groups))
        ways: dict[Picture, Callable[[Drawing], None]] = {
            Picture.SCATTER: self._scatter,
            Picture.HEAT: self._heat,
            Picture.SPREAD: self._spread,
            Picture.TIME: self._time,
            Picture.GROUPS: self._groups,
        }
        drawing = Drawing(picture)
        ways[picture](drawing)
        return drawing

    # parts

    def shown(self, value: float) -> float:
        """Return a value of the measure in the unit shown."""
        return float(to_display(value, self.what.dimension, self.system))

    def _rows(self) -> SelectedRows:
        return select_rows(self.frame, self.question, self.catalogue, self.system)

    def _parted(self, place: int, series: int | None, panel: int | None) -> "_Parted":
        return _Parted(self.answer.groups, place, series, panel)

    def _looks_of(self, names: Sequence[str], place: int | None) -> dict[str, int]:
        """Return the look of each of some groups of the variable at a place of the question.

        What groups arms has the look of those arms in their cooks; anything else one that no
        arm has.
        """
        own = {name: series(number) for number, name in enumerate(names)}
        if place is None or self.question.by[place].part is not None:
            return own
        variable = self.catalogue[self.question.by[place].key]
        if variable.level is not Level.ARM:
            return own
        found = looks_of_groups(self.frame, variable.key, self.arm_looks)
        return own | {name: look for name, look in found.items() if name in own}

    # groups

    def _groups(self, drawing: Drawing) -> None:
        count = len(self.question.by)
        parted = self._parted(1 if count > 1 else 0, 0 if count > 1 else None, None)
        if count == 3:
            parted = self._parted(1, 0, 2)
        self._marks(drawing, parted, joined=False)

    def _time(self, drawing: Drawing) -> None:
        time = times_in(self.question)[0]
        others = without(self.question.by, time)
        parted = self._parted(time, *(*others, None, None)[:2])
        self._marks(drawing, parted, joined=True)

    def _marks(self, drawing: Drawing, parted: "_Parted", *, joined: bool) -> None:
        place = parted.series_place
        drawing.series = self._looks_of(list(parted.series), place)
        self._place_looks = {}
        if place is None and not joined and self.question.by:
            names = [parted.place_of(group) for group in self.answer.groups]
            foot = self._looks_of(list(dict.fromkeys(names)), parted.place)
            self._place_looks = {name: look for name, look in foot.items() if look < SERIES}
        alone = len(parted.panels) == 1
        made: list[tuple[str, list[GroupMark], list[CooksOfMark]]] = []
        panels = list(parted.panels.items())[:MOST_PANELS]
        room = max((MOST_MOMENTS if joined else MOST_MARKS) // max(len(panels), 1), LEAST_MARKS)
        for head, groups in panels:
            kept = groups[:room]
            drawing.drawn += len(kept)
            marks = [self._mark(group, parted, drawing) for group in kept]
            made.append((head, marks, [_cooks_of(group) for group in kept]))
        every = [mark for _, marks, _ in made for mark in marks]
        for head, marks, behind in made:
            chart = GroupsChart(height=300 if alone else 220)
            chart.show_groups(
                marks, self.unit, span=span_of(every) if not alone else None, joined=joined
            )
            drawing.panels.append((head, chart))
            drawing.behind.append(behind)
        if not made:
            chart = GroupsChart(height=300)
            chart.show_groups([], self.unit)
            drawing.panels.append(("", chart))
            drawing.behind.append([])

    def _mark(self, group: Group, parted: "_Parted", drawing: Drawing) -> GroupMark:
        place, series = parted.place_of(group), parted.series_of(group)
        low, high = (None if v is None else self.shown(v) for v in (group.low, group.high))
        look = self._place_looks.get(place, drawing.series.get(series, SERIES))
        return GroupMark(
            place, series, look, self.shown(group.mean), low, high, group.cooks, group.few
        )

    def _heat(self, drawing: Drawing) -> None:
        parted = self._parted(1, 0, 2 if len(self.question.by) > 2 else None)
        sound = [g for g in self.answer.groups if not g.few] or list(self.answer.groups)
        means = [self.shown(group.mean) for group in sound]
        span = (min(means), max(means)) if means else None
        columns = list(dict.fromkeys(g.key[1] for g in self.answer.groups))
        if columns:
            columns = _as_named(columns, self._rows().groups[1].names)[:MOST_COLUMNS]
        rows = list(parted.series)[:MOST_LINES]
        for head, every in list(parted.panels.items())[:MOST_PANELS]:
            groups = [g for g in every if g.key[0] in rows and g.key[1] in columns]
            drawing.drawn += len(groups)
            cells = [
                HeatCell(
                    group.key[0],
                    group.key[1],
                    self.shown(group.mean),
                    show(group.mean, self.what.dimension, self.system),
                    group.cooks,
                    group.few,
                )
                for group in groups
            ]
            chart = HeatChart()
            here = {cell.row for cell in cells}
            chart.show_cells(cells, [name for name in rows if name in here], columns, span=span)
            drawing.panels.append((head, chart))
            drawing.behind.append([_cooks_of(group) for group in groups])
        if not drawing.panels:
            drawing.panels.append(("", HeatChart()))
            drawing.behind.append([])

    # cooks

    def _scatter(self, drawing: Drawing) -> None:
        along = numbers_in(self.question, self.catalogue)[0]
        number = self.catalogue[self.question.by[along].key]
        drawing.along = number.key
        drawing.drawn = len(self.answer.groups)
        drawing.twice = scored_twice(self.question, self.catalogue)
        others = without(self.question.by, along)
        cells = cook_means_of(self.frame, self._rows(), others, each_piece=drawing.twice)
        what = "pieces" if drawing.twice else "cooks"
        x = to_display(cells.means(self.frame.numbers(number.key)), number.dimension, self.system)
        y = to_display(cells.values, self.what.dimension, self.system)
        first = list(dict.fromkeys(key[0] for key in cells.keys if key))
        drawing.series = self._looks_of(first, others[0] if others else None)
        places = {name: place for place, name in enumerate(first)}
        own_places = [places.get((*key, "")[0], 0) for key in cells.keys]
        series_of = np.array([*own_places, 0], dtype=np.int64)[cells.groups]
        names = tuple(first) or ("",)
        looks = tuple(drawing.series.get(name, SERIES) for name in names)
        panels: dict[str, list[int]] = {}
        for place, key in enumerate(cells.keys):
            panels.setdefault((*key, "", "")[1], []).append(place)
        spans = spans_of(Cloud(x, y, series_of)) if cells.size else None
        for head, groups in list(panels.items())[:MOST_PANELS]:
            own = np.flatnonzero(np.isin(cells.groups, groups))
            chart = ScatterChart(
                height=SQUARE if drawing.twice else 300 if len(panels) == 1 else 220
            )
            cloud = Cloud(x[own], y[own], series_of[own], names, looks)
            chart.show_points(
                cloud,
                named(number, self.system),
                self.unit,
                spans=spans,
                what=what,
                square=drawing.twice,
                minutes=(in_minutes(number), in_minutes(self.what)),
            )
            drawing.panels.append((head, chart))
            drawing.behind.append(Lazily(own.size, self._cooks(cells, own, x, number)))
        if not panels:
            drawing.panels.append(("", ScatterChart(height=300)))
            drawing.behind.append([])

    def _cooks(
        self, cells: CookMeans, own: Places, x: Floats, number: Variable
    ) -> Callable[[int], CooksOfMark]:
        """Return what tells the cook behind one of these points."""

        def cook(point: int) -> CooksOfMark:
            place = int(own[point])
            value = float(from_display(float(x[place]), number.dimension, self.system))
            key = cells.keys[int(cells.groups[place])]
            words = ", ".join((show(value, number.dimension, self.system), *key))
            name = self.frame.cook_names[int(cells.cooks[place])]
            return CooksOfMark(words, (name,), key, (value, value))

        return cook

    def _spread(self, drawing: Drawing) -> None:
        drawing.along = "" if self.question.against_control else self.what.key
        cells = cook_means_of(self.frame, self._rows())
        shown = to_display(cells.values, self.what.dimension, self.system)
        fewest = 12 if len(cells.keys) > 1 else FEWEST
        edges = round_steps(shown, fewest, minutes=in_minutes(self.what))
        keys = cells.keys[:MOST_PANELS]
        drawing.drawn = len(keys)
        parts = [np.flatnonzero(cells.groups == place) for place in range(len(keys))]
        most = max((max(counts_in(shown[part], edges)) for part in parts), default=0)
        for key, part in zip(keys, parts, strict=True):
            steps, behind = self._steps(cells, part, shown, edges, key)
            chart = SpreadChart(height=300 if len(parts) == 1 else 210)
            chart.show_steps(
                steps,
                named(self.what, self.system),
                middle=float(np.median(shown[part])),
                few=part.size < FEW,
                most=most,
                minutes=in_minutes(self.what),
            )
            drawing.panels.append((f"{', '.join(key)} · {counted(part.size, 'cook')}", chart))
            drawing.behind.append(behind)
        if not parts:
            drawing.panels.append(("", SpreadChart(height=300)))
            drawing.behind.append([])

    def _steps(
        self, cells: CookMeans, part: Places, shown: Floats, edges: Floats, key: tuple[str, ...]
    ) -> tuple[list[SpreadStep], "Lazily"]:
        own = np.searchsorted(edges, shown[part], side="right") - 1
        ends = [(float(low), float(high)) for low, high in pairwise(edges)]
        counts = np.bincount(own, minlength=len(ends))

        def step(place: int) -> CooksOfMark:
            low, high = (
                float(from_display(end, self.what.dimension, self.system)) for end in ends[place]
            )
            codes = cells.cooks[part[own == place]].tolist()
            said = f"{trimmed(ends[place][0])} to {trimmed(ends[place][1])} {self.unit}".strip()
            names = tuple(self.frame.cook_names[code] for code in codes)
            return CooksOfMark(", ".join((*key, said)), names, key, (low, high))

        steps = [SpreadStep(*ends[n], int(counts[n])) for n in range(len(ends))]
        return steps, Lazily(len(steps), step)


class Lazily(Sequence[CooksOfMark]):
    """What is behind many marks, worked out for the one that is asked for."""

    def __init__(self, count: int, make: Callable[[int], CooksOfMark]) -> None:
        self._count, self._make = count, make

    def __len__(self) -> int:
        return self._count

    def __getitem__(self, place: int) -> CooksOfMark:  # type: ignore[override]
        if not 0 <= place < self._count:
            raise IndexError(place)
        return self._make(place)


class _Parted:
    """Groups laid out: which variable stands along the foot, which parts series, and panels."""

    def __init__(
        self, groups: Sequence[Group], place: int, series: int | None, panel: int | None
    ) -> None:
        self._place, self._series, self._panel = place, series, panel
        self.place, self.series_place = place, series
        self.panels: dict[str, list[Group]] = {}
        for group in groups:
            head = group.key[panel] if panel is not None else ""
            self.panels.setdefault(head, []).append(group)
        names = dict.fromkeys(self.series_of(group) for group in groups)
        self.series = {name: number for number, name in enumerate(names)}

    def place_of(self, group: Group) -> str:
        return group.key[self._place] if group.key else ALL

    def series_of(self, group: Group) -> str:
        return "" if self._series is None else group.key[self._series]


def _as_named(found: Sequence[str], names: Sequence[str]) -> list[str]:
    """Return names in the order a variable has them."""
    return [name for name in names if name in found]


def _cooks_of(group: Group) -> CooksOfMark:
    return CooksOfMark(", ".join(group.key) or ALL, group.cook_ids, group.key)


def in_minutes(variable: Variable) -> bool:
    """Whether a variable's values are minutes: its axis says hours and minutes by itself."""
    return variable.dimension is Dimension.DURATION


def named(variable: Variable, system: UnitSystem) -> str:
    """Return a variable with its unit, as an axis says it."""
    unit = unit_label(variable.dimension, system)
    if variable.dimension is Dimension.SCORE or in_minutes(variable):
        return variable.label
    return f"{variable.label}, {unit}" if unit else variable.label
