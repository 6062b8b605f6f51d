"""A known trace, written in a dialect drawn at random, is read back exactly."""

import datetime as dt
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.files.probe_log import read_probe_log
from tests.files.probe_log.test_bulk import assert_same

BEGUN = dt.datetime(2026, 3, 14, 21, 50, 7, tzinfo=dt.UTC)
STAMPS = (
    "%Y-%m-%d %H:%M:%S",
    "%Y-%m-%dT%H:%M:%SZ",
    "%Y-%m-%dT%H:%M:%S+00:00",
    "%Y/%m/%d %H:%M:%S",
    "%d.%m.%Y %H:%M:%S",
    "%d/%m/%Y %H:%M:%S",
    "%m/%d/%Y %I:%M:%S %p",
    "%d-%b-%Y %H:%M:%S",
    "%Y%m%dT%H%M%S",
    "%s",
    "elapsed s",
    "elapsed h:mm:ss",
    "elapsed min",
)
ABOVE = (
    "Logger export",
    "# Memo: oak; two chunks",
    "Serial,12345",
    "Version: 3",
    "",
    "Checked\t2025-12-01",
    "Limits | 50 | 300",
    "Operator: a cook, at home",
)
FORM = {"(": "{} ({})", "[": "{} [{}]", "deg": "{} deg {}", "_": "{}_{}"}
WORDS = {
    "C": ("C", "°C", "Celsius", "Grad Celsius", "grados C", "degrés Celsius", "C°"),
    "F": ("F", "°F", "deg F", "Fahrenheit", "Grad Fahrenheit", "grados F", "F°"),
}
LETTERED = {"deg", "_"}
"""Where only the letter of a unit stands."""
LINES = ("Units: {}", "Einheit = {}", "Unidad;{}", "Températures en {}", "Werte in {}", "Scale\t{}")
PARTS = ("0.1 {}", "{} x10", "1/10 {}", "Zehntel {}", "{}/10", "décimas de {}")
ASIDE = (
    "Battery (%)",
    "Supply V",
    "Strom",
    "Current (A)",
    "Puissance [W]",
    "Corriente",
    "VDD",
    "电压",
)
TARGETS = ("{}/120", "{} / 120", "{} (120)", "{}->120", "{} (target: 120)")


REMARKS = ["lid", "lid opened", "2 splits added", "Deckel auf", "spritzed the point"]
_REMARKED = 5
"""The row behind which someone wrote."""


@dataclass(frozen=True)
class Drawn:
    """A dialect: how times, readings and the rows around them are written."""

    stamp: str
    delimiter: str
    comma: bool
    quoted: bool
    fahrenheit: bool
    unit_at: str
    mark: str
    above: tuple[str, ...]
    below: tuple[str, ...]
    end: str
    encoding: str
    long: bool
    aside: str
    again: int
    word: str
    line: str
    part: str
    target: str
    numbered: bool
    counted: bool
    remark: str

    def time(self, seconds: int) -> str:
        if self.stamp == "elapsed s":
            return str(seconds)
        if self.stamp == "elapsed min":
            return f"{seconds / 60:.3f}".replace(".", "," if self.comma else ".")
        if self.stamp == "elapsed h:mm:ss":
            return f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
        moment = BEGUN + dt.timedelta(seconds=seconds)
        return f"{moment.timestamp():.0f}" if self.stamp == "%s" else moment.strftime(self.stamp)

    @property
    def unit(self) -> str:
        return "F" if self.fahrenheit else "C"

    def value(self, tenths: int | None) -> str:
        if tenths is None:
            return self.mark
        value = tenths / 10 * 1.8 + 32 if self.fahrenheit else tenths / 10
        text = f"{value:.2f}".replace(".", "," if self.comma else ".")
        text = str(tenths) if self.part else text
        text = f"{text}°{self.unit}" if self.unit_at == "cells" else text
        return self.target.format(text) if self.target else text

    @property
    def said(self) -> str:
        """The unit as the file says it."""
        word = self.unit if self.unit_at in LETTERED else self.word
        return self.part.format(word) if self.part else word

    @property
    def names(self) -> tuple[str, str]:
        return ("1", "2") if self.long and self.numbered else ("Pit", "Meat")

    def head(self, name: str) -> str:
        return FORM[self.unit_at].format(name, self.said) if self.unit_at in FORM else name

    def row(self, cells: list[str]) -> str:
        words = [f'"{cell}"' for cell in cells] if self.quoted else cells
        return self.delimiter.join(words)

    def heads(self) -> str:
        clock = {"elapsed s": "Elapsed (s)", "elapsed min": "Minutes", "%s": "ts"}
        time = clock.get(self.stamp, "Elapsed" if "h:mm" in self.stamp else "Time")
        if self.long:
            unit = ["Unit"] if self.unit_at == "column" else []
            # Of a column that is only headed as an amount the unit must tell, by more than a letter.
            amount = self.counted and bool(unit) and len(self.said) > 1 and not self.target
            return self.row([time, "Probe", "Count" if amount else self.head("Temp"), *unit])
        names = [self.head("Pit"), self.head("Meat")]
        if self.unit_at == "each":
            names = [names[0], "Unit", names[1], "Unit"]
        return self.row([time, *names, *([self.aside] if self.aside else [])])

    def units(self) -> str:
        aside = ["V"] if self.aside else []
        return self.row(["", self.said, self.said, *aside])

    def rows(self, seconds: int, pit: int | None, meat: int | None) -> list[str]:
        time, values = self.time(seconds), [self.value(pit), self.value(meat)]
        if self.long:
            unit = [self.said] if self.unit_at == "column" else []
            pairs = zip(self.names, values, strict=True)
            return [self.row([time, name, value, *unit]) for name, value in pairs]
        if self.unit_at == "each":
            values = [values[0], self.said, values[1], self.said]
        return [self.row([time, *values, *(["87"] if self.aside else [])])]

    def text(self, seconds: list[int], pits: list[int | None], meats: list[int | None]) -> str:
        lines = list(self.above)
        if self.unit_at == "preamble":
            lines.append(self.line.format(self.said))
        if self.unit_at == "row above":
            lines.append(self.units())
        lines.append(self.heads())
        if self.unit_at == "row":
            lines.append(self.units())
        for number, (moment, pit, meat) in enumerate(zip(seconds, pits, meats, strict=True)):
            if self.again and number and number % self.again == 0:
                lines.append(self.heads())
            lines += self.rows(moment, pit, meat)
            if self.remark and number == _REMARKED and not self.long:
                lines[-1] += f"{self.delimiter}{self.remark}"
        return self.end.join([*lines, *self.below]) + self.end


@st.composite
def dialects(draw: st.DrawFn) -> Drawn:
    delimiter = draw(st.sampled_from([",", ";", "\t", "|", " | ", "    "]))
    blanks = delimiter == "    "
    long = draw(st.booleans())
    apart = ["column"] if long else ["row", "row above", "each"]
    places = ["(", "[", "deg", "_", "cells", "preamble", *apart]
    if blanks:
        places = ["(", "[", "_", "cells", "preamble"]
    place, fahrenheit = draw(st.sampled_from(places)), draw(st.booleans())
    # Tenths of °F are no whole tenths of °C.
    whole = fahrenheit or place in {"cells", *LETTERED}
    part = "" if whole else draw(st.sampled_from(["", "", *PARTS]))
    marks = ["--", "---", "NaN", "n/a", "Err", "OL", "999", "-999", "9999", "32767"]
    marks += [] if blanks else [""]
    marks = [mark for mark in marks if not part or mark not in {"999", "-999"}]
    aside = "" if long else draw(st.sampled_from(["", *ASIDE]))
    encodings = ["utf-8", "utf-8-sig", "utf-16", "utf-16-be"]
    encodings += ["latin-1"] if aside.isascii() else []
    return Drawn(
        stamp=draw(st.sampled_from(STAMPS)),
        delimiter=delimiter,
        comma=delimiter != "," and draw(st.booleans()),
        quoted=delimiter in {",", ";", "\t"} and draw(st.booleans()),
        fahrenheit=fahrenheit,
        unit_at=place,
        mark=draw(st.sampled_from(marks)),
        above=tuple(
            draw(
                st.lists(
                    st.sampled_from(ABOVE),
                    max_size=25,
                )
            )
        ),
        below=tuple(draw(st.lists(st.sampled_from(["", "End of log", "Rows: 12"]), max_size=3))),
        end=draw(st.sampled_from(["\n", "\r\n", "\r"])),
        encoding=draw(st.sampled_from(encodings)),
        long=long,
        aside=aside,
        again=draw(st.sampled_from([0, 0, 7, 20])),
        word=draw(st.sampled_from(WORDS["F" if fahrenheit else "C"])),
        line=draw(st.sampled_from(LINES)),
        part=part,
        target="" if part else draw(st.sampled_from(["", "", *TARGETS])),
        numbered=draw(st.booleans()),
        counted=draw(st.booleans()),
        remark="" if blanks else draw(st.sampled_from(["", *REMARKS])),
    )


def tenths(low: int, high: int) -> st.SearchStrategy[int | None]:
    return st.one_of(*[st.integers(low, high)] * 6, st.none())


@settings(max_examples=250, deadline=None)
@given(
    drawn=dialects(),
    count=st.integers(8, 40),
    step=st.sampled_from([1, 5, 15, 30, 60, 120, 300]),
    data=st.data(),
)
def test_that_a_known_trace_is_read_back(
    drawn: Drawn, count: int, step: int, data: st.DataObject
) -> None:
    pits = [900, *data.draw(st.lists(tenths(600, 1600), min_size=count - 1, max_size=count - 1))]
    meats = [45, *data.draw(st.lists(tenths(20, 950), min_size=count - 1, max_size=count - 1))]
    seconds = [step * row for row in range(count)]
    raw = drawn.text(seconds, pits, meats).encode(drawn.encoding)
    log = read_probe_log(raw, "log.txt")
    assert [channel.name for channel in log.channels] == list(drawn.names)
    assert not log.rejected
    begin = 0.0 if drawn.stamp.startswith("elapsed") else BEGUN.timestamp()
    for channel, series in zip(log.channels, (pits, meats), strict=True):
        there = [row for row in range(count) if series[row] is not None]
        assert channel.missing == count - len(there)
        assert channel.times_s == pytest.approx(begin + step * np.array(there), rel=0, abs=1e-6)
        values = np.array([(series[row] or 0) / 10 for row in there])
        assert channel.values_c == pytest.approx(values, abs=0.0061)
        assert channel.unit_in_file == ("degF" if drawn.fahrenheit else "degC")
    assert_same(read_probe_log(raw, "x", bulk=True), read_probe_log(raw, "x", bulk=False))
