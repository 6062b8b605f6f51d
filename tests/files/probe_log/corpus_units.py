"""Units in many words and places, parts of a degree, and columns that hold something else."""

import itertools
from collections.abc import Callable

from tests.files.probe_log.dialects import COUNT, Dialect, fahrenheit, meat, moment, pit, wide

STAMP = "%Y-%m-%d %H:%M:%S"
KELVIN = 273.15
"""K at 0 °C (NIST Handbook 44, Appendix C: exact)."""

Scale = Callable[[float], float]
SCALES: dict[str, Scale] = {"degC": float, "degF": fahrenheit, "K": lambda c: c + KELVIN}
WORDS = {
    "degC": ("°C", "Celsius", "Grad Celsius", "grados C", "degrés Celsius", "Celsius (°C)", "C°"),
    "degF": ("F", "deg F", "Fahrenheit", "Grad Fahrenheit", "°Fahrenheit", "F°"),
    "K": ("K", "Kelvin", "°K", "Kelvin (K)", "kelvins"),
}
PREAMBLES = (
    "Units: {}",
    "Temperature scale, {}",
    "Temperatureinheit = {}",
    "Unité de température : {}",
    "Unidad;{}",
    "Werte in {}",
    "Températures en {}",
    "Temperaturas en {}",
    "All readings are in {}",
    'Unit of measure: "{}"',
    "Temperature [{}]",
    "Anzeige: {}",
    "Échelle: {}",
)
ASIDE = (
    ("Supply V", "12.{}"),
    ("VDD", "3.{}"),
    ("Supply [V]", "12.{}"),
    ("Current (A)", "4.{}"),
    ("Current", "4.{}"),
    ("Heater W", "80{}"),
    ("Energy (Wh)", "3{}"),
    ("Netzspannung", "23{}"),
    ("Strom", "1.{}"),
    ("Leistung [W]", "80{}"),
    ("Tension alim", "12.{}"),
    ("Courant", "1.{}"),
    ("Puissance", "80{}"),
    ("Voltaje", "12.{}"),
    ("Corriente", "1.{}"),
    ("Potencia", "80{}"),
    ("Spanning", "12.{}"),
    ("Spänning", "12.{}"),
    ("Napięcie", "12.{}"),
    ("Tensão", "12.{}"),
    ("Напряжение", "12.{}"),
    ("电压", "12.{}"),
    ("Vermogen", "80{}"),
    ("Luftfuktighet", "5{}"),
    ("Lat", "41.{}"),
    ("Signalstärke", "-6{}"),
    ("Luftfeuchtigkeit", "4{}"),
    ("Humidité", "4{}"),
    ("Drehzahl", "120{}"),
    ("Ladezustand", "9{}"),
    ("Load current", "1.{}"),
    ("5V rail", "5.{}"),
    ("supply_mv", "1200{}"),
)
OTHER_UNITS = (
    "V",
    "mA",
    "A",
    "W",
    "kWh",
    "%",
    "dBm",
    "rpm",
    "U/min",
    "hPa",
    "% r.F.",
    "m³/h",
    "xyz",
)
PARTS = (
    ("0.1 {}", 10),
    ("{} x10", 10),
    ("{}*10", 10),
    ("{}/10", 10),
    ("1/10 {}", 10),
    ("tenths of {}", 10),
    ("Zehntel {}", 10),
    ("décimas de {}", 10),
    ("dixièmes de {}", 10),
    ("0,01 {}", 100),
    ("m{}", 1000),
    ("milli-{}", 1000),
)


def _scaled(unit: str, times: float = 1.0, digits: int = 1) -> Callable[[float], str]:
    return lambda celsius: f"{SCALES[unit](celsius) * times:.{digits}f}"


def _worded(cell: Callable[[float], str], word: str) -> Callable[[float], str]:
    return lambda celsius: f"{cell(celsius)} {word}"


def _table(head: str, cell: Callable[[float], str], mark: str = ",", above: str = "") -> bytes:
    """Return rows below heads, with the readings as `cell` writes those in Celsius."""
    rows = wide(STAMP, mark=mark, head=None, cell=cell)
    return f"{above}{head}\n{rows}".encode()


def _said() -> list[Dialect]:
    """Return units said in heads, in a row, in cells, in a column and above."""
    found = []
    for unit, words in WORDS.items():
        cell, units = _scaled(unit, digits=2), (unit, unit)
        for word in words:
            forms = {
                "head": (f"Time,Pit ({word}),Meat ({word})", cell, ""),
                "row": (f"Time,Pit,Meat\n,{word},{word}", cell, ""),
                "row above": (f",{word},{word}\nTime,Pit,Meat", cell, ""),
                "labelled row": (f"Time,Pit,Meat\nUnit,{word},{word}", cell, ""),
                "cells": ("Time,Pit,Meat", _worded(cell, word), ""),
            }
            for place, (head, write, above) in forms.items():
                data = _table(head, write, above=above)
                found.append(Dialect(f"{word} in {place}", data, units=units))
        for word, line in zip(itertools.cycle(words), PREAMBLES, strict=False):
            above = f"Log 3\n{line.format(word)}\n\n"
            data = _table("Time,Pit,Meat", cell, above=above)
            found.append(Dialect(f"above: {line.format(word)}", data, units=units))
    return found


def _columns_of_units() -> list[Dialect]:
    """Return units in columns: one for all, one each, of other things too."""
    f, c = _scaled("degF", digits=2), _scaled("degC")
    found = []
    kinds: tuple[tuple[str, str, Callable[[int], str], tuple[str, str]], ...] = (
        ("one", "Pit,Meat,Einheit", lambda n: f"{f(pit(n))},{f(meat(n))},F", ("degF", "degF")),
        (
            "each",
            "Pit,Unit,Meat,Unit",
            lambda n: f"{f(pit(n))},F,{c(meat(n))},C",
            ("degF", "degC"),
        ),
        ("before", "U1,Pit,U2,Meat", lambda n: f"F,{f(pit(n))},C,{c(meat(n))}", ("degF", "degC")),
        (
            "of volts too",
            "Ch3,Unit,Pit,Unit,Meat,Unit",
            lambda n: f"12.1,V,{f(pit(n))},F,{f(meat(n))},F",
            ("degF", "degF"),
        ),
    )
    for name, heads, row, units in kinds:
        lines = [f"Time,{heads}", *(f"{moment(n):{STAMP}},{row(n)}" for n in range(COUNT))]
        data = "\n".join([*lines, ""]).encode()
        found.append(Dialect(f"columns of units, {name}", data, units=units))
    rows = [
        f"{moment(n):{STAMP}},{name},{value},{unit}"
        for n in range(COUNT)
        for name, value, unit in (
            ("Pit", f(pit(n)), "F"),
            ("Meat", f(meat(n)), "F"),
            ("Supply", "12.1", "V"),
            ("Draw", "0.4", "A"),
            ("Heat", "800", "W"),
        )
    ]
    data = "\n".join(["Time,Channel,Value,Unit", *rows, ""]).encode()
    found.append(Dialect("long rows of volts, amperes and watts too", data, units=("degF", "degF")))
    return found


def _kelvin_or_type() -> list[Dialect]:
    """Return files in which K is the type of a thermocouple."""
    cell, units = _scaled("degF", digits=2), ("degF", "degF")
    return [
        Dialect(
            f"type K {name}", _table(head, cell, mark=mark, above=above), names=names, units=units
        )
        for name, head, above, mark, names in (
            ("in a row", "Type,K,K\nTime,Pit (F),Meat (F)", "", ",", ("Pit", "Meat")),
            ("below the units", "Time,Pit,Meat\n,F,F\nType,K,K", "", ",", ("Pit", "Meat")),
            ("above", "Time,Pit,Meat", "Unit: F\nTC type: K\n", ",", ("Pit", "Meat")),
            ("for a unit", "Time,Pit (K),Meat (K)", "Unit: F\n", ",", ("Pit", "Meat")),
        )
    ]


def _parts_of_degrees() -> list[Dialect]:
    found = []
    for unit, sign in (("degC", "°C"), ("degF", "°F"), ("K", "K")):
        for word, times in PARTS:
            part = word.format(sign)
            cell, units = _scaled(unit, times, 0), (unit, unit)
            for place, head, above in (
                ("head", f"Time;Pit ({part});Meat ({part})", ""),
                ("row", f"Time;Pit;Meat\n;{part};{part}", ""),
                ("preamble", "Time;Pit;Meat", f"Units: {part}\n"),
            ):
                data = _table(head, cell, ";", above)
                near = 0.006 if unit != "K" or times > 10 else 0.06
                near = 0.03 if unit == "degF" and times == 10 else near
                found.append(Dialect(f"{part} in {place}", data, units=units, near=near))
        key = sign[-1].lower()
        for end, times in ((f"_d{key}", 10), (f"_{key}_x10", 10), (f"_m{key}", 1000)):
            head = f"time,pit{end},meat{end}"
            data = _table(head, _scaled(unit, times, 0))
            near = 0.06 if times == 10 else 0.006
            found.append(
                Dialect(f"pit{end}", data, names=("pit", "meat"), units=(unit, unit), near=near)
            )
    finely = _table("Time,Pit (0.1 C),Meat (0.1 C)", _scaled("degC"))
    return [*found, Dialect("fractions of 0.1 C", finely)]


def _aside() -> list[Dialect]:
    found = []
    for head, text in ASIDE:
        for place, heads in (("last", "Time,Pit,Meat," + head), ("first", f"Time,{head},Pit,Meat")):
            lines = [heads.replace("Pit", "Pit (C)").replace("Meat", "Meat (C)")]
            for n in range(COUNT):
                cells = [f"{pit(n):.1f}", f"{meat(n):.1f}"]
                cells.insert(2 if place == "last" else 0, text.format(n % 9))
                lines.append(",".join([f"{moment(n):{STAMP}}", *cells]))
            found.append(Dialect(f"{head} {place}", "\n".join([*lines, ""]).encode()))
    for unit in OTHER_UNITS:
        lines = ["Time,Pit,Meat,Aux", f",°C,°C,{unit}"]
        lines += [
            f"{moment(n):{STAMP}},{pit(n):.1f},{meat(n):.1f},12.{n % 9}" for n in range(COUNT)
        ]
        found.append(Dialect(f"units row with {unit}", "\n".join([*lines, ""]).encode()))
    return found


DIALECTS = [
    *_said(),
    *_columns_of_units(),
    *_kelvin_or_type(),
    *_parts_of_degrees(),
    *_aside(),
]
