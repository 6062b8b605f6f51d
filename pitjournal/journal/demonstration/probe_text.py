"""Write traces as the text files of three loggers that do not exist.

Each has its own layout, times and units, so that reading them back is no formality.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np

from pitjournal.journal.demonstration.simulation import Array
from pitjournal.units import Dimension, UnitSystem, to_display


@dataclass(frozen=True, eq=False)
class Logged:
    """What a logger saw: times, s since 1970 (UTC), shape (n,), and °C by channel, NaN for none."""

    times: Array
    channels: Mapping[str, Array]
    zone: ZoneInfo


def wide_text(logged: Logged) -> bytes:
    """Write a column a probe: commas, ISO local times, whole °F, a battery that runs down."""
    head = ",".join(["Time", *(f"{name} (°F)" for name in logged.channels), "Battery (%)"])
    battery = np.linspace(96.0, 71.0, logged.times.size)
    columns = [[_fahrenheit(value) for value in values] for values in logged.channels.values()]
    rows = zip(_local(logged, "%Y-%m-%dT%H:%M:%S"), *columns, map(_whole, battery), strict=True)
    return _lines([head, *(",".join(row) for row in rows)], "\n").encode()


def day_first_text(logged: Logged) -> bytes:
    """Write semicolons, day-first dates, decimal commas in °C, and a preamble, in Latin-1."""
    begins, *_ = _local(logged, "%d.%m.%Y %H:%M:%S")
    preamble = ["Invented logger two", f"Recording began;{begins}", "Temperatures in;°C", ""]
    head = ";".join(["Date", "Time", *logged.channels])
    columns = [[_comma(value) for value in values] for values in logged.channels.values()]
    rows = zip(_local(logged, "%d.%m.%Y"), _local(logged, "%H:%M:%S"), *columns, strict=True)
    foot = ["", "End of recording"]
    return _lines([*preamble, head, *(";".join(row) for row in rows), *foot], "\r\n").encode(
        "latin-1"
    )


def long_text(logged: Logged) -> bytes:
    """Write a row a reading: tabs, epoch seconds, a unit column; some channels are in °F."""
    lines = ["epoch\tsensor\treading\tunit"]
    units = {name: "F" if place % 2 else "C" for place, name in enumerate(logged.channels)}
    for place, time in enumerate(logged.times):
        for name, values in logged.channels.items():
            unit = units[name]
            lines.append(f"{time:.0f}\t{name}\t{_in_unit(float(values[place]), unit)}\t{unit}")
    return _lines(lines, "\n").encode()


DIALECTS: Mapping[str, tuple[Callable[[Logged], bytes], str]] = {
    "wide": (wide_text, "csv"),
    "day first": (day_first_text, "txt"),
    "long": (long_text, "tsv"),
}
"""How each logger writes, and what its files are called."""


def _lines(lines: list[str], end: str) -> str:
    return end.join(lines) + end


def _local(logged: Logged, form: str) -> list[str]:
    zone = logged.zone
    return [
        datetime.fromtimestamp(float(time), UTC).astimezone(zone).strftime(form)
        for time in logged.times
    ]


def _whole(value: float) -> str:
    return f"{value:.0f}"


def _fahrenheit(value: float) -> str:
    if np.isnan(value):
        return "---"
    return f"{to_display(value, Dimension.TEMPERATURE, UnitSystem.US):.1f}"


def _comma(value: float) -> str:
    return "" if np.isnan(value) else f"{value:.1f}".replace(".", ",")


def _in_unit(value: float, unit: str) -> str:
    if np.isnan(value):
        return "OL"
    return _fahrenheit(value) if unit == "F" else f"{value:.2f}"
