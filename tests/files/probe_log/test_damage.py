"""Damaged files give the right values for the rows they keep, or are refused."""

import pytest

from pitjournal.errors import JournalError
from pitjournal.files.probe_log import read_probe_log
from tests.files.probe_log.mutations import Good, good_files, run

ROUNDS = 5
EACH = 80


@pytest.fixture(scope="module")
def files() -> list[Good]:
    return good_files()


@pytest.mark.parametrize("seed", range(ROUNDS))
def test_that_damage_gives_no_temperature_at_a_wrong_time(seed: int, files: list[Good]) -> None:
    outcomes, wrong = run(EACH, 1000 + seed, files)
    assert not wrong
    assert outcomes["right"] > EACH / 2


@pytest.mark.parametrize("odd", ["20²6", "①", "٣", "9" * 5000])
def test_that_digits_that_are_no_numbers_are_no_fault(odd: str) -> None:
    rows = [f"2026-05-02 12:{n:02d}:00,{n % 2 + 1},{100 + n}" for n in range(30)]
    rows[11] = rows[11].replace(",2,", f",{odd},")
    data = "\n".join(["Time,Probe,Temp (C)", *rows, ""]).encode()
    try:
        log = read_probe_log(data, "odd.csv")
    except JournalError:
        return
    assert all(channel.count <= 30 for channel in log.channels)


def test_that_a_damaged_epoch_is_no_time_since_a_start() -> None:
    early = [1773525000000000 + 300_000_000 * n for n in range(5)]
    late = [1773538500000000 + 300_000_000 * n for n in range(3)]
    rows = [f"{time},118.0,40.0" for time in (*early, 177352650000, *late)]
    data = "\n".join(["ts,pit_c,meat_c", *rows, ""]).encode()
    try:
        channel, _ = read_probe_log(data, "short.csv").channels
    except JournalError:
        return
    assert channel.times_s.max() <= 1773539100.0


def test_that_one_damaged_day_of_few_does_not_turn_days_into_seconds() -> None:
    # Day 25,569 of a spreadsheet is 1 January 1970; so 46095.75 is 14 March 2026, 18:00.
    rows = ["46095,750000;118,0", "46095,753472;118,7", "46095,756944;119,4", "4606096,07;118,7"]
    data = "\n".join(["Time;Pit (C)", *rows, ""]).encode()
    log = read_probe_log(data, "days.csv")
    assert log.timezone == "local"
    assert [row.line for row in log.rejected] == [5]
    assert log.channels[0].times_s[0] == pytest.approx(1773511200.0, abs=0.1)
