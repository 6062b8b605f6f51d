"""The tables of a season's report: fuel, yields, contests."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from statistics import fmean

from pitjournal.analysis.contests.results import Overall
from pitjournal.analysis.contests.season import Season
from pitjournal.analysis.contests.words import place_words, total_words
from pitjournal.analysis.findings.like import cut_key
from pitjournal.domain.times.moments import date_words
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import SummaryTable, TableColumn
from pitjournal.journal.sharing.figures import Figures
from pitjournal.units import Dimension, UnitSystem
from pitjournal.units.figures import percent

Rows = Iterable[tuple[str, str, str, Mapping[str, object]]]
"""What is known: owner, cook, level, values in storage units by catalogue key."""


def _counts(label: str, counts: Sequence[int]) -> TableColumn:
    return TableColumn(label, tuple(map(str, counts)), "", tuple(map(float, counts)))


def _numbers(
    label: str, values: Sequence[float | None], dimension: Dimension, figures: Figures
) -> TableColumn:
    shown = tuple(figures.cell(value, dimension) for value in values)
    bare = tuple(None if v is None else figures.number(v, dimension) for v in values)
    return TableColumn(label, shown, figures.unit(dimension), bare)


def _of(values: Sequence[float], take: Callable[[Sequence[float]], float]) -> float | None:
    return take(values) if values else None


def fuel_table(wholes: Sequence[WholeCook], rows: Rows, system: UnitSystem) -> SummaryTable:
    """Return what was burnt, by fuel: g in all, and g/s on average over the cooks."""
    used: dict[str, list[float]] = {}
    rates: dict[str, list[float]] = {}
    names = {
        whole.cook.id: " and ".join(sorted({load.fuel for load in whole.fuel_loads if load.fuel}))
        for whole in wholes
    }
    for _, cook_id, level, said in rows:
        name = names.get(cook_id)
        if level != "cook" or not name:
            continue
        for key, kept in (("fuel_used", used), ("fuel_rate", rates)):
            value = said.get(key)
            if isinstance(value, float):
                kept.setdefault(name, []).append(value)
    fuels = sorted(used, key=lambda name: -sum(used[name]))
    figures = Figures(system)
    rate = [_of(rates.get(name, []), fmean) for name in fuels]
    return SummaryTable(
        "Fuel",
        (
            TableColumn("Fuel", tuple(fuels)),
            _counts("Cooks", [len(used[name]) for name in fuels]),
            _numbers("Used", [sum(used[name]) for name in fuels], Dimension.MASS, figures),
            _numbers("A cook's mean", rate, Dimension.MASS_RATE, figures),
        ),
    )


def yield_table(wholes: Sequence[WholeCook], rows: Rows, system: UnitSystem) -> SummaryTable:
    """Return the yield of each cut, off by trimmed: the mean over pieces, and from where to where."""
    cuts = {piece.id: piece.cut for whole in wholes for piece in whole.pieces if piece.cut}
    called: dict[str, str] = {}
    found: dict[str, list[float]] = {}
    cooks: dict[str, set[str]] = {}
    for owner, cook_id, level, said in rows:
        value = said.get("yield_off")
        if level != "piece" or owner not in cuts or not isinstance(value, float):
            continue
        key = cut_key(cuts[owner])
        called.setdefault(key, cuts[owner])
        found.setdefault(key, []).append(value)
        cooks.setdefault(key, set()).add(cook_id)
    keys = sorted(found, key=lambda key: (-len(found[key]), called[key]))
    figures = Figures(system)

    def column(label: str, take: Callable[[Sequence[float]], float]) -> TableColumn:
        return _numbers(label, [take(found[key]) for key in keys], Dimension.FRACTION, figures)

    return SummaryTable(
        "Yields, off by trimmed",
        (
            TableColumn("Cut", tuple(called[key] for key in keys)),
            _counts("Cooks", [len(cooks[key]) for key in keys]),
            _counts("Pieces", [len(found[key]) for key in keys]),
            column("Mean", fmean),
            column("Least", min),
            column("Most", max),
        ),
    )


def contest_table(season: Season, *, where: bool, foot: str) -> SummaryTable:
    """Return each contest over all, and each of its categories below it."""
    lines: list[tuple[str, str, str, str, Overall]] = []
    for one in season.standings:
        day = date_words(one.contest.day)
        lines.append((day, one.contest.name, one.contest.place, "over all", one.overall))
        lines += [("", "", "", turn_in.category.name, result) for turn_in, result in one.results]
    came = [line[4] for line in lines]
    shares = [one.beaten for one in came]
    columns = [
        TableColumn("Day", tuple(line[0] for line in lines)),
        TableColumn("Contest", tuple(line[1] for line in lines)),
        *([TableColumn("Where", tuple(line[2] for line in lines))] if where else []),
        TableColumn("Category", tuple(line[3] for line in lines)),
        TableColumn(
            "Total",
            tuple(total_words(one.total) for one in came),
            "",
            tuple(one.total for one in came),
        ),
        TableColumn("Place", tuple(place_words(one.place, one.field) for one in came)),
        TableColumn(
            "Others beaten",
            tuple("" if share is None else percent(share) for share in shares),
            "",
            tuple(shares),
        ),
    ]
    return SummaryTable("Contests", tuple(columns), foot=foot)
