"""From rows with times to channels: units, names, and what no probe can have read."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from pitjournal.files.probe_log.body import NOWHERE, Body
from pitjournal.files.probe_log.cells import COLDEST_C, HOTTEST_C
from pitjournal.files.probe_log.columns import Layout, names_and_units
from pitjournal.files.probe_log.report import UNIT_WORDS, Channel
from pitjournal.files.probe_log.rows import Section
from pitjournal.files.probe_log.units import UNITS, base_unit, to_celsius_slope
from pitjournal.units.figures import trimmed

Floats = NDArray[np.float64]
Codes = NDArray[np.int8]
Rows = NDArray[np.intp] | slice

IMPOSSIBLE = "{} is no temperature that a probe reads"
_FEW = 2
_CELSIUS, _FAHRENHEIT = UNITS.index("degC"), UNITS.index("degF")
_OTHER = {_CELSIUS: _FAHRENHEIT, _FAHRENHEIT: _CELSIUS}
_FAR = 15.0
"""Degrees of either scale; readings are not so near each other in °C and in °F."""
_STEADY = 0.08
"""Of a reading; from row to row a pit or meat changes less."""
_ENOUGH = 20
_LAST_WHOLE = UNITS.index("K")
_MANY = 0.3
_HOT = 600.0
"""Degrees of any scale; no cook's readings lie above this most of the time."""


@dataclass(frozen=True)
class Units:
    """The unit of every reading, as places in `cells.UNITS`, and what to say of them."""

    codes: Codes
    notes: dict[str, str]


def units_of(body: Body, layout: Layout, sections: Sequence[Section], told: str = "") -> Units:
    """Return each reading's unit: of its cell or row, its column, the preamble, or its range.

    Parameters
    ----------
    body
        The rows.
    layout
        Their columns.
    sections
        Heads and units that hold from a row on.
    told
        The unit that the cook says where the file says none, or an empty text.
    """
    codes = np.asfortranarray(body.units.copy())
    begins = _begins(body, sections)
    for section, low, high in zip(sections, begins, [*begins[1:], body.count], strict=True):
        headed = names_and_units(layout, section.heads)
        for order, place in enumerate(layout.readings):
            unit = section.units.get(place) or headed[place][1] or layout.stated
            if unit == "K" and layout.stated not in {"", "K"}:
                unit = layout.stated  # a thermocouple of type K
            _fill(codes[low:high, order], UNITS.index(unit))
    notes: dict[str, str] = {}
    _without_needless_parts(body, codes)
    kelvin = UNITS.index("K")
    if (codes == kelvin).any() and _is_too_cold(body.values[codes == kelvin]):
        codes[codes == kelvin] = 0  # thermocouples of type K
    if not codes.all():
        _carry_on(body, codes)
    if not codes.all() and (~np.isnan(body.values[codes == 0])).any():
        words = _fill_unit(codes, told) if told else _guessed(body, codes)
        notes["unit_told" if told else "unit_guessed"] = words
    _follow_jumps(body.values, codes)
    if _is_switched(body, codes):
        notes["unit_switched"] = "The unit changes within the file; each row has its own."
    return Units(codes, notes)


def _without_needless_parts(body: Body, codes: Codes) -> None:
    """Take "0.1 °C" for how finely readings are written where they have such fractions."""
    for part in np.unique(codes[codes > _LAST_WHOLE]).tolist():
        values = body.values[codes == part]
        values = values[~np.isnan(values)]
        # A few fractions are damage.
        broken = float((values % 1.0 > 0.0).mean()) if values.size else 0.0
        if broken > _MANY and float(np.median(values)) < _HOT:
            codes[codes == part] = UNITS.index(base_unit(UNITS[part]))


def _carry_on(body: Body, codes: Codes) -> None:
    """Give a reading without a unit the one of the reading before it in its channel."""
    for code in range(len(body.names)):
        rows = np.flatnonzero(body.codes == code)
        for column in codes.T:
            own = column[rows]
            known = np.flatnonzero(own > 0)
            if known.size and known.size < own.size:
                place = np.searchsorted(known, np.arange(own.size), side="right") - 1
                before = np.where(place < 0, 0, own[known[np.maximum(place, 0)]])
                column[rows] = np.where(own == 0, before, own)


def _guessed(body: Body, codes: Codes) -> str:
    """Give a unit to readings that nothing gives one; return words on it.

    A channel without any takes that of the others; what else is left goes by its range.
    """
    told = np.unique(codes[codes > 0]).tolist()
    if len(told) == 1:
        for column in codes.T:
            if not (column > 0).any():
                _fill(column, told[0])
    if codes.all():
        said = UNIT_WORDS[base_unit(UNITS[told[0]])]
        return f"Some channels have no unit; taken for {said}, as the others are."
    left = np.where(codes == 0, body.values, np.nan)
    guess = guess_unit(_series(replace(body, values=left)))
    for column in codes.T:
        _fill(column, UNITS.index(guess))
    return f"The file names no unit; its range says {UNIT_WORDS[guess]}."


def _fill_unit(codes: Codes, unit: str) -> str:
    """Give what nothing gives a unit the one that the cook said; return words on it."""
    for column in codes.T:
        _fill(column, UNITS.index(unit))
    return f"The file names no unit; read as {UNIT_WORDS[unit]}, as was said."


def _fill(codes: Codes, unit: int) -> None:
    """Give a unit to the readings that have none."""
    if codes.any():
        codes[codes == 0] = unit
    else:
        codes[:] = unit


def _follow_jumps(values: Floats, codes: Codes) -> None:
    """Change the unit from where all channels at once jump as from °C to °F, or back.

    No two probes do that in one step; a logger does whose unit was switched without a word.
    """
    if values.shape[1] < 2:
        return
    before, after = values[:-1], values[1:]
    rows = np.flatnonzero(np.abs(after[:, 0] - before[:, 0]) > _FAR)
    rows = rows[(np.abs(after[rows] - before[rows]) > _FAR).all(axis=1)]
    zero, slope = to_celsius_slope("degF")
    for row in rows.tolist():
        unit = int(codes[row, 0])
        other = _OTHER.get(unit)
        if other is None or not (codes[row : row + 2] == unit).all():
            continue
        told = before[row]
        told = told * slope + zero if other == _FAHRENHEIT else (told - zero) / slope
        near = (np.abs(after[row] - told) < 0.04 * np.abs(told) + 2.0).all()
        if near and _is_steady(values, row):
            here = codes[row + 1 :]
            here[np.cumprod((here == unit).all(axis=1)).astype(np.bool_)] = other


def _is_steady(values: Floats, row: int) -> bool:
    """Whether the rows before a jump are alike, and those behind it: only the jump stands out."""
    parts = (values[max(0, row - 2) : row + 1], values[row + 1 : row + 4])
    return not any(
        bool((np.abs(part - part[-1]) > _STEADY * np.abs(part[-1]) + 4.0).any()) for part in parts
    )


def _is_switched(body: Body, codes: Codes) -> bool:
    """Whether a channel's unit changes; in a long file each channel may have its own."""
    if all(part.size == 0 or part.min() == part.max() for part in codes.T):
        return False
    for code in range(len(body.names)):
        for part in codes[body.codes == code].T:
            there = part[part != NOWHERE]
            if there.size and there.min() != there.max():
                return True
    return False


def _begins(body: Body, sections: Sequence[Section]) -> list[int]:
    """Return the first row of each section."""
    return [int(np.searchsorted(body.places, section.place)) for section in sections]


def _is_too_cold(values: Floats) -> bool:
    known = values[~np.isnan(values)]
    return known.size > 0 and float(np.median(known)) < 200.0


def _series(body: Body) -> list[Floats]:
    """Return the values of each channel as written."""
    if len(body.names) > 1:
        found = [body.values[body.codes == code, 0] for code in range(len(body.names))]
    else:
        found = list(body.values.T)
    return [values[~np.isnan(values)] for values in found if not np.isnan(values).all()]


def guess_unit(channels: Sequence[Floats]) -> str:
    """Guess °F or °C by range: pits and done meat are far apart on the two scales.

    Food does not get hotter than water boils: a channel that begins cold and ends well above
    100 is food in °F; one that is above 165 most of the time is a pit in °F, unless another is
    as cold as only meat in °C is.
    """
    if not channels:
        return "degC"
    every = np.concatenate(channels)
    high, low = float(np.percentile(every, 95)), float(np.percentile(every, 2))
    food = any(values[0] < 100.0 and 105.0 < values.max() < 215.0 for values in channels)
    if high > 165.0 and (low > 18.0 or food):
        return "degF"
    return "degC"


def in_celsius(body: Body, codes: Codes) -> Floats:
    """Return the readings in °C, shape (n, columns)."""
    values = np.empty_like(body.values, order="F")
    for order in range(values.shape[1]):
        column, unit = body.values[:, order], codes[:, order]
        alike = unit.size == 0 or unit.min() == unit.max()
        kinds = [int(unit[0])] if alike and unit.size else np.unique(unit).tolist()
        for kind in kinds:
            zero, slope = to_celsius_slope(UNITS[kind])
            if len(kinds) == 1:
                values[:, order] = (column - zero) / slope
            else:
                values[unit == kind, order] = (column[unit == kind] - zero) / slope
    return values


def impossible(values: Floats, written: Floats) -> dict[int, str]:
    """Return rows with a reading that no probe reads; one that comes again is a mark for none.

    Parameters
    ----------
    values
        °C, shape (n, columns); readings that come again get NaN.
    written
        The same as written.
    """
    found: dict[int, str] = {}
    out = (values < COLDEST_C) | (values > HOTTEST_C)
    if not out.any():
        return found
    numbers, counts = np.unique(written[out], return_counts=True)
    often = numbers[counts > 1]
    for row, column in zip(*np.nonzero(out), strict=True):
        if written[row, column] in often:
            values[row, column] = np.nan
        else:
            found[int(row)] = IMPOSSIBLE.format(trimmed(written[row, column]))
    return found


@dataclass(frozen=True)
class Readings:
    """Rows that all have a time.

    Attributes
    ----------
    body
        The rows.
    seconds
        See `report.Channel.times_s`, shape (n,).
    values
        °C, NaN where one is missing, shape (n, columns).
    units
        Places in `cells.UNITS`, shape (n, columns).
    """

    body: Body
    seconds: Floats
    values: Floats
    units: Codes

    def without(self, rows: Sequence[int]) -> "Readings":
        """Return them without some rows."""
        if not rows:
            return self
        kept = np.ones(self.body.count, dtype=np.bool_)
        kept[list(rows)] = False
        return Readings(
            self.body.only(kept), self.seconds[kept], self.values[kept], self.units[kept]
        )

    def _clock(self, rows: Rows) -> Floats:
        """Return the times of some rows; of all of them the one array, which channels share."""
        if isinstance(rows, slice) and (rows.start, rows.stop) == (0, self.body.count):
            return self.seconds
        found: Floats = self.seconds[rows]
        return found

    def channel(self, name: str, parts: Sequence[tuple[Rows, int]], zone: str) -> Channel:
        """Return a channel of some rows and columns, in the file's order."""
        seconds = _one([self._clock(rows) for rows, _ in parts])
        values = _one([self.values[rows, column] for rows, column in parts])
        units = _one([self.units[rows, column] for rows, column in parts])
        known = ~np.isnan(values)
        missing = int((~known & (units != NOWHERE)).sum())
        if not known.all():
            seconds, values, units = seconds[known], values[known], units[known]
        unit = base_unit(UNITS[int(units[0])]) if units.size else "unknown"
        return Channel(
            name=name,
            unit_in_file=unit,
            times_s=seconds,
            values_c=np.ascontiguousarray(values),
            missing=missing,
            zone=zone,
        )


def _one(parts: list[NDArray[Any]]) -> NDArray[Any]:
    return parts[0] if len(parts) == 1 else np.concatenate(parts)


def channels_of(
    readings: Readings, layout: Layout, sections: Sequence[Section], zone: str
) -> tuple[Channel, ...]:
    """Return the channels that have readings."""
    body = readings.body
    parts: dict[str, list[tuple[Rows, int]]] = {}
    if layout.name_column is not None:
        for code, name in enumerate(body.names):
            if name:
                parts[name] = [(np.flatnonzero(body.codes == code), 0)]
    else:
        for name, rows, column in _wide_parts(body, layout, sections):
            parts.setdefault(name, []).append((rows, column))
    channels = (readings.channel(name, found, zone) for name, found in parts.items())
    return tuple(channel for channel in channels if channel.count)


def _wide_parts(
    body: Body, layout: Layout, sections: Sequence[Section]
) -> list[tuple[str, Rows, int]]:
    """Return each column's channel name, rows and place, by sections that share their names."""
    parts: list[tuple[str, Rows, int]] = []
    names: list[list[str]] = []
    lows: list[int] = []
    for section, low in zip(sections, _begins(body, sections), strict=True):
        here = [name for name, _ in names_and_units(layout, section.heads).values()]
        if not names or here != names[-1]:
            names.append(here)
            lows.append(low)
    for here, low, high in zip(names, lows, [*lows[1:], body.count], strict=True):
        parts += [(name, slice(low, high), order) for order, name in enumerate(here)]
    return parts


def rare_names(body: Body) -> dict[int, str]:
    """Return rows of a long file whose channel's name stands in hardly any row: a damaged one."""
    if len(body.names) < 2:
        return {}
    counts = np.bincount(body.codes, minlength=len(body.names))
    usual = float(np.median(counts))
    rare = [
        code
        for code, count in enumerate(counts.tolist())
        if body.names[code] and count < _FEW and usual >= _ENOUGH
    ]
    return {
        int(row): f"“{body.names[code][:20]}” is the name of no other row's channel"
        for code in rare
        for row in np.flatnonzero(body.codes == code)
    }
