"""What the three invented loggers write, against times and units worked out by hand."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np

from pitjournal.journal.demonstration.probe_text import (
    DIALECTS,
    Logged,
    day_first_text,
    long_text,
    wide_text,
)

BEGAN = datetime(2026, 2, 14, 18, 0, tzinfo=UTC)
"""Noon in Chicago, which is six hours behind in winter (IANA: CST, UTC−6)."""


def logged() -> Logged:
    return Logged(
        times=BEGAN.timestamp() + np.array([0.0, 60.0]),
        channels={"Pit": np.array([100.0, 121.5]), "Probe 1": np.array([np.nan, 5.0])},
        zone=ZoneInfo("America/Chicago"),
    )


def test_that_the_wide_file_has_local_times_and_fahrenheit() -> None:
    # 100 °C is 212 °F, 121.5 °C is 250.7 °F, 5 °C is 41 °F, exactly
    assert wide_text(logged()).decode().splitlines() == [
        "Time,Pit (°F),Probe 1 (°F),Battery (%)",
        "2026-02-14T12:00:00,212.0,---,96",
        "2026-02-14T12:01:00,250.7,41.0,71",
    ]


def test_that_the_day_first_file_has_a_preamble_and_decimal_commas() -> None:
    assert day_first_text(logged()).decode("latin-1").split("\r\n") == [
        "Invented logger two",
        "Recording began;14.02.2026 12:00:00",
        "Temperatures in;°C",
        "",
        "Date;Time;Pit;Probe 1",
        "14.02.2026;12:00:00;100,0;",
        "14.02.2026;12:01:00;121,5;5,0",
        "",
        "End of recording",
        "",
    ]


def test_that_the_long_file_counts_from_the_epoch_with_a_unit_a_row() -> None:
    # 2026-02-14 18:00 UTC is 1771092000 s after 1970 (20 498 days of 86 400 s and 18 h)
    assert 20_498 * 86_400 + 18 * 3600 == 1_771_092_000
    assert long_text(logged()).decode().splitlines() == [
        "epoch\tsensor\treading\tunit",
        "1771092000\tPit\t100.00\tC",
        "1771092000\tProbe 1\tOL\tF",
        "1771092060\tPit\t121.50\tC",
        "1771092060\tProbe 1\t41.0\tF",
    ]


def test_that_no_two_loggers_write_alike() -> None:
    files = [write(logged()) for write, _ in DIALECTS.values()]
    assert len({data.splitlines()[0] for data in files}) == len(files) == 3
