"""The tables of a summary: each piece, each arm, differences, leeway, what else differed."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from statistics import fmean
from typing import Any

from pitjournal.analysis.trade_words import in_letters, in_points
from pitjournal.domain.catalogue import Catalogue, Kind, Level, Variable
from pitjournal.domain.cook import Arm
from pitjournal.domain.piece import Piece, Stage
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Choice, PrivatePart, SummaryTable, TableColumn
from pitjournal.journal.sharing.figures import UNKNOWN, Figures
from pitjournal.units import Dimension, difference_of, show_interval
from pitjournal.units.first_letter import capital

Values = Mapping[str, Mapping[str, Any]]
"""What is known of each piece: id, then catalogue key, then value in storage units."""

PIECE_KEYS = (
    "thickness",
    "mass_trimmed",
    "mass_on",
    "mass_off",
    "pickup",
    "yield_off",
    "time_on",
    "internal_off",
    "feel_off",
)
"""What the table of pieces shows, where any piece has it."""

ARM_KEYS = ("pickup", "yield_off", "yield_edible", "time_on", "time_rested", "stall_length")
"""What the table of arms shows besides the outcome."""


def recorded_values(whole: WholeCook, catalogue: Catalogue, worked_out: Values) -> Values:
    """Return what was recorded of each piece, with what was worked out for it beside."""
    recorded = [
        variable
        for variable in catalogue.values()
        if variable.level is Level.PIECE and variable.field
    ]
    found: dict[str, dict[str, Any]] = {}
    for piece in whole.pieces:
        values = {variable.key: getattr(piece, variable.field) for variable in recorded}
        values |= {f"mass_{stage}": whole.mass(piece, stage) for stage in Stage}
        found[piece.id] = values | dict(worked_out.get(piece.id, {}))
    return found


def pieces_table(
    whole: WholeCook,
    values: Values,
    catalogue: Catalogue,
    choice: Choice,
    figures: Figures,
) -> SummaryTable:
    """Return one row a piece; suppliers and prices only when chosen."""
    pieces = whole.pieces
    columns = [TableColumn("Piece", tuple(piece.label for piece in pieces))]
    if whole.arms:
        names = tuple(arm.name if (arm := whole.arm_of(p)) else "" for p in pieces)
        columns.append(TableColumn("Arm", names))
    cuts = tuple(piece.cut for piece in pieces)
    if len(set(cuts)) > 1:
        columns.append(TableColumn("Cut", cuts))
    columns += _words(pieces, ("block", "grade", "slot"))
    if PrivatePart.SUPPLIER in choice:
        columns += _words(pieces, ("supplier", "lot"))
    keys = list(PIECE_KEYS)
    if PrivatePart.COSTS in choice:
        keys += ["price", "cost_per_edible"]
    if whole.cook.outcome and whole.cook.outcome not in keys:
        keys.append(whole.cook.outcome)
    for key in keys:
        variable = catalogue.get(key)
        if variable is None or variable.kind is not Kind.NUMBER:
            continue
        known = [values.get(piece.id, {}).get(key) for piece in pieces]
        if any(value is not None for value in known):
            columns.append(number_column(variable, known, figures))
    looks = tuple(whole.arm_index(piece.arm_id) for piece in pieces)
    return SummaryTable("Each piece", tuple(columns), looks)


_HEADS = {"block": "Pack or pair"}


def _words(pieces: Iterable[Piece], names: Iterable[str]) -> list[TableColumn]:
    found = []
    for name in names:
        cells = tuple(str(getattr(piece, name)) for piece in pieces)
        if any(cells):
            head = _HEADS.get(name, name.capitalize())
            found.append(TableColumn(head, tuple(cell or UNKNOWN for cell in cells)))
    return found


def number_column(variable: Variable, known: Iterable[Any], figures: Figures) -> TableColumn:
    """Return a variable's column: one unit for all of it."""
    stored = [None if value is None else float(value) for value in known]
    dimension = variable.dimension
    return TableColumn(
        titled(variable.label),
        tuple(figures.cell(value, dimension) for value in stored),
        figures.unit(dimension),
        tuple(None if value is None else figures.number(value, dimension) for value in stored),
    )


def titled(label: str) -> str:
    """Return a label as a heading begins."""
    return capital(label)


def arms_table(
    whole: WholeCook,
    values: Values,
    catalogue: Catalogue,
    found: Mapping[str, Any],
    figures: Figures,
) -> SummaryTable:
    """Return one row an arm: the outcome's mean and spread, and means of what was worked out."""
    rows = found["arms"]
    arms = {arm.name: arm for arm in whole.arms}
    named = [arms[row["name"]] for row in rows]
    outcome = catalogue.get(found["outcome"] or "")
    judged = outcome is not None and any(row["pieces"] for row in rows)
    counts = [
        row["pieces"] if judged else len(whole.pieces_of(arm))
        for row, arm in zip(rows, named, strict=True)
    ]
    columns = [
        TableColumn("Arm", tuple(row["name"] for row in rows)),
        TableColumn(
            "Pieces", tuple(map(str, counts)), numbers=tuple(float(count) for count in counts)
        ),
    ]
    if outcome is not None:
        columns.append(number_column(outcome, (row["mean"] for row in rows), figures))
        spread = replace(
            outcome, label="standard deviation", dimension=difference_of(outcome.dimension)
        )
        columns.append(number_column(spread, (row["sd"] for row in rows), figures))
    for key in ARM_KEYS:
        means = []
        for arm in named:
            every = (values.get(piece.id, {}).get(key) for piece in whole.pieces_of(arm))
            known = [float(value) for value in every if value is not None]
            means.append(fmean(known) if known else None)
        if any(mean is not None for mean in means):
            column = number_column(catalogue[key], means, figures)
            cut = [key == "stall_length" and _cut_short(whole, arm, values) for arm in named]
            cells = zip(cut, column.cells, strict=True)
            told = tuple(f"at least {cell}" if open_ else cell for open_, cell in cells)
            columns.append(replace(column, cells=told))
    looks = tuple(whole.arm_index(arm.id) for arm in named)
    return SummaryTable("Each arm, means of its pieces", tuple(columns), looks)


def _cut_short(whole: WholeCook, arm: Arm, values: Values) -> bool:
    """Whether a piece of an arm came off in its stall."""
    pieces = whole.pieces_of(arm)
    return any(values.get(piece.id, {}).get("stall_ended") is False for piece in pieces)


def _look(whole: WholeCook, name: str) -> int | None:
    return next((whole.arm_index(arm.id) for arm in whole.arms if arm.name == name), None)


def differences_table(
    whole: WholeCook, catalogue: Catalogue, found: Mapping[str, Any], figures: Figures
) -> SummaryTable:
    """Return each difference from the control, with its interval or why there is none."""
    rows = [row for row in found["differences"] if row["estimate"] is not None]
    control = whole.control.name if whole.control else "the control"
    columns = (
        TableColumn("Arm", tuple(row["arm"] for row in rows)),
        TableColumn("Outcome", tuple(_outcome(catalogue, row) for row in rows)),
        TableColumn(
            "Difference", tuple(_step(catalogue, row, "estimate", figures) for row in rows)
        ),
        TableColumn("95 % interval", tuple(_interval(catalogue, row, figures) for row in rows)),
        TableColumn("Pieces", tuple(str(row["pieces"]) for row in rows)),
        TableColumn("Says", tuple(_says(row, rows) for row in rows)),
        TableColumn("Worked out by", tuple(row["method"] or "–" for row in rows)),
    )
    looks = tuple(_look(whole, row["arm"]) for row in rows)
    return SummaryTable(f"Difference from {control}", columns, looks)


def _says(row: Mapping[str, Any], rows: Sequence[Mapping[str, Any]]) -> str:
    """Return the verdict; one of many looks says so, where its interval alone would say more."""
    verdict = str(row.get("verdict") or UNKNOWN)
    low, high = judged_by(row)
    clear = low is not None and high is not None and low * high > 0
    looks = sum(not other["declared"] for other in rows)
    if row["declared"] or not clear or looks < 2 or not verdict.startswith("not enough"):
        return verdict
    return f"{verdict}, as one of {in_letters(looks)} looks"


def _label(catalogue: Catalogue, words: str) -> str:
    variable = catalogue.named(words)
    return variable.label if variable else words


def _outcome(catalogue: Catalogue, row: Mapping[str, Any]) -> str:
    label = _label(catalogue, row["outcome"])
    if row["cooks"] > 1:
        label += f", over {in_letters(row['cooks'])} cooks"
    return label if row["declared"] else f"{label}, exploratory"


def _step(catalogue: Catalogue, row: Mapping[str, Any], key: str, figures: Figures) -> str:
    """Return a difference in words, with its unit."""
    variable = catalogue.named(row.get("outcome") or row["variable"])
    value = row[key]
    if variable is None or value is None:
        return UNKNOWN
    return figures.signed(value, variable.dimension)


def _interval(catalogue: Catalogue, row: Mapping[str, Any], figures: Figures) -> str:
    variable = catalogue.named(row["outcome"])
    if variable is None:
        return show_interval(None, None, Dimension.NUMBER, figures.system)
    what = difference_of(variable.dimension)
    said = in_points(show_interval(*judged_by(row), what, figures.system, signed=True))
    if row.get("borrowed"):
        return f"{said}, spread borrowed"
    shared = (row.get("between") or {}).get("one_spread") and row["low"] is not None
    return f"{said}, one spread for all" if shared else said


def judged_by(row: Mapping[str, Any]) -> tuple[float | None, float | None]:
    """Return the interval a difference is judged by: with a borrowed spread where there is one."""
    judged = row.get("borrowed") or row
    return judged["low"], judged["high"]


def ledger_table(
    whole: WholeCook, catalogue: Catalogue, found: Mapping[str, Any], figures: Figures
) -> SummaryTable:
    """Return what else differed: a row a variable, a column an arm."""
    rows = found["ledger"]
    names = list(dict.fromkeys(row["arm"] for row in rows))
    variables = list(dict.fromkeys(row["variable"] for row in rows))
    cells = {
        (row["variable"], row["arm"]): _step(catalogue, row, "difference", figures) for row in rows
    }
    columns = [TableColumn("", tuple(titled(_label(catalogue, name)) for name in variables))]
    columns += [
        TableColumn(name, tuple(cells.get((variable, name), UNKNOWN) for variable in variables))
        for name in names
    ]
    control = whole.control.name if whole.control else "the control"
    return SummaryTable(f"What else differed from {control}", tuple(columns))


def leeway_table(whole: WholeCook, found: Mapping[str, Any], figures: Figures) -> SummaryTable:
    """Return how long, and over how many degrees, each arm stayed right."""
    rows = found["leeway"]
    halves = tuple(_estimate(row, figures) for row in rows)
    columns = (
        TableColumn("Arm", tuple(row["arm"] for row in rows)),
        TableColumn("Leeway in", tuple(str(row["axis"]) for row in rows)),
        TableColumn(
            "At least, middle of its pieces",
            tuple(_bound(row, "at_least", figures) for row in rows),
        ),
        TableColumn(
            "At most, middle of its pieces", tuple(_bound(row, "at_most", figures) for row in rows)
        ),
        *([TableColumn("Half, 95 % interval", halves)] if any(h != "–" for h in halves) else []),
        TableColumn("", tuple(row["reason"] or "" for row in rows)),
    )
    return SummaryTable(
        "How long it stayed right", columns, tuple(_look(whole, row["arm"]) for row in rows)
    )


def _estimate(row: Mapping[str, Any], figures: Figures) -> str:
    """Return how long half of an arm stays right over all its cooks, with the interval."""
    if row["estimate"] is None:
        return "–"
    low, high = row["low"], row["high"]
    if low is None or high is None:
        return _bound(row, "estimate", figures)
    what = Dimension.DURATION
    if row["axis"] == "temperature":
        what = Dimension.TEMPERATURE_DIFFERENCE
    bounds = show_interval(low, high, what, figures.system)
    return f"{_bound(row, 'estimate', figures)} ({bounds})"


def _bound(row: Mapping[str, Any], key: str, figures: Figures) -> str:
    value = row[key]
    if value is None:
        return "–"
    if row["axis"] == "temperature":
        return figures.show(value, Dimension.TEMPERATURE_DIFFERENCE)
    return figures.show(value, Dimension.DURATION)
