"""Damaged files give the right values for the rows they keep, or are refused."""

import datetime as dt

import pytest

from pitjournal.errors import JournalError
from pitjournal.files.probe_log import read_probe_log
from tests.files.probe_log.dialects import meat, moment, pit
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


STAMP = "%Y-%m-%d %H:%M:%S"


def _rows(count: int) -> list[str]:
    return [f"{moment(n):{STAMP}},{pit(n):.1f},{meat(n):.1f}" for n in range(count)]


def _lines_left_out(rows: list[str]) -> list[int]:
    data = "\n".join(["Time,Pit (C),Meat (C)", *rows, ""]).encode()
    return [row.line for row in read_probe_log(data, "log.csv").rejected]


def test_that_some_damaged_rows_of_a_short_log_do_not_loosen_its_step() -> None:
    # Rows every 300 s, five of 48 off by 4 min or less: none is where the clock can have been.
    rows, harmed = _rows(48), {6: 4, 14: 2, 22: 3, 30: 1, 38: 2}
    for row, minutes in harmed.items():
        late = moment(row) + dt.timedelta(minutes=minutes)
        rows[row] = f"{late:{STAMP}},{pit(row):.1f},{meat(row):.1f}"
    assert _lines_left_out(rows) == [row + 2 for row in harmed]


def test_that_a_row_joined_of_two_is_left_out_in_a_log_of_few_rows() -> None:
    rows = _rows(48)
    joined = f"{moment(5):{STAMP}},{pit(39):.1f},{meat(39):.1f}"
    assert _lines_left_out([*rows[:2], joined, *rows[46:]]) == [4]


def test_that_three_rows_that_do_not_go_on_are_no_log() -> None:
    rows = _rows(48)
    joined = f"{moment(0):%Y-%m-%d} 05:00:00,118.7,69.9"
    with pytest.raises(JournalError, match="more of its rows cannot be read"):
        _lines_left_out([*rows[:2], joined])


def test_that_a_cell_of_signs_beside_a_time_is_no_zone() -> None:
    for cell in ("+", "-", "+:", "UTC+"):
        rows = [row.replace(" ", ",").replace(",1", f",{cell},1", 1) for row in _rows(8)]
        data = "\n".join(["Date,Time,Zone,Pit (C),Meat (C)", *rows, ""]).encode()
        log = read_probe_log(data, "log.csv")
        assert (log.rows_read, log.timezone) == (8, "local")


def test_that_a_record_that_lost_its_name_does_not_mix_two_probes() -> None:
    records = [
        f'{{"time": "{moment(n):{STAMP}}", "probe": "{name}", "value": {value(n):.1f}}}'
        for n in range(48)
        for name, value in (("Pit", pit), ("Meat", meat))
    ]
    records[20] = records[20].replace('"probe"', '"pr%be"')
    records[30] = records[30].replace('"value"', '"va÷ue"')
    records[33] = records[33].replace("}", ', "note": "spritzed"}')
    log = read_probe_log("\n".join([*records, ""]).encode(), "log.json")
    assert [(channel.name, channel.count) for channel in log.channels] == [
        ("Pit", 46),
        ("Meat", 48),
    ]
    assert [row.line for row in log.rejected] == [21, 31]
