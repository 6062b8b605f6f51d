"""A scale that no cook reads is left aside, and never taken for one that he does.

Rankine counts degrees of Fahrenheit from absolute zero, Réaumur eighty from ice to steam (NIST
Special Publication 811, B.8): as °C or °F both would be a wrong temperature.
"""

import pytest

from pitjournal.files.probe_log import read_probe_log

ROWS = "".join(
    f"2026-05-02 12:{minute:02d}:00,{110 + minute},{520 + minute}\n" for minute in range(5)
)


@pytest.mark.parametrize(
    "head",
    [
        "Time,Pit (°C),Meat (°R)",
        "Time,Pit °C,Meat °R",
        "Time,Pit degC,Meat degR",
        "Time,Pit [degC],Meat [deg R]",
        "Time,Pit [degC],Meat [deg. R]",
        "Time,Pit Celsius,Meat Rankine",
        "Time,Pit °C,Meat °Ra",
        "Time,Pit °C,Meat Réaumur",
        "Time,Pit °C,Meat °Ré",
        "Time,Pit,Meat\n,°C,°R",
    ],
)
def test_that_it_is_no_temperature(head: str) -> None:
    log = read_probe_log(f"{head}\n{ROWS}".encode(), "scales.csv")
    (channel,) = log.channels
    assert channel.unit_in_file == "degC"
    assert channel.max_c == 114.0
