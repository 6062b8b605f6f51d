"""What happens in the course of a log: clocks, gaps, probes that come and go, words."""

import datetime as dt
import random
from collections.abc import Callable

import numpy as np
import pytest

from pitjournal.errors import JournalError
from pitjournal.files.probe_log import ProbeLog, ReadOptions, read_probe_log

BEGUN = dt.datetime(2026, 3, 14, 21, 50, tzinfo=dt.UTC)
COUNT = 60


def pit(row: int) -> float:
    return 225.0 + (row * 7 % 23) / 10


def written(seconds: Callable[[int], float], head: str = "Time,Pit (F)", count: int = COUNT) -> str:
    rows = (
        f"{BEGUN + dt.timedelta(seconds=seconds(n)):%Y-%m-%d %H:%M:%S},{pit(n):.1f}"
        for n in range(count)
    )
    return "\n".join([head, *rows]) + "\n"


def read(text: str, **options: object) -> ProbeLog:
    return read_probe_log(text.encode(), "log.csv", ReadOptions(**options))  # type: ignore[arg-type]


def kinds(log: ProbeLog) -> set[str]:
    return {note.kind for note in log.notes}


CHANCE = random.Random(1)
JITTER = [CHANCE.choice((-1, 0, 1, 2)) for _ in range(COUNT)]
SPACED = np.cumsum([CHANCE.expovariate(1 / 45) + 1 for _ in range(COUNT)]).astype(int).tolist()


@pytest.mark.parametrize(
    ("seconds", "note"),
    [
        (lambda n: 60 * n + (7200 if n > 30 else 0), "gap"),
        (lambda n: 60 * n - (1200 if n > 30 else 0), "clock_back"),
        (lambda n: 60 * n - (433 if n > 30 else 0), "clock_back"),
        (lambda n: 60 * n - (600 if 30 < n < 36 else 0), "clock_back"),
        (lambda n: 60 * n + (3600 if n > 30 else 0), "gap"),
        (lambda n: 60 * n + JITTER[n], ""),
        (lambda n: SPACED[n], ""),
        (lambda n: 7 * n * n, ""),
        (lambda n: n * 20 // 60 * 60, ""),
        (lambda n: n * 45 // 60 * 60, ""),
        (lambda n: 10 * n if n < 40 else 390 + 60 * (n - 39), ""),
    ],
    ids=[
        "a gap of two hours",
        "set back by twenty minutes",
        "set back by seven minutes and odd seconds",
        "set back and forth again",
        "set on by an hour",
        "a clock that jitters",
        "readings at random",
        "readings farther and farther apart",
        "three rows a minute, written in minutes",
        "two rows in some minutes",
        "every ten seconds, then every minute",
    ],
)
def test_that_a_clock_of_any_pace_keeps_its_rows(
    seconds: Callable[[int], float], note: str
) -> None:
    log = read(written(seconds))
    assert not log.rejected
    expected = BEGUN.timestamp() + np.array([seconds(n) for n in range(COUNT)])
    assert log.channels[0].times_s == pytest.approx(expected, rel=0, abs=1e-6)
    assert not note or note in kinds(log)


def test_that_a_row_written_twice_is_kept_twice() -> None:
    lines = written(lambda n: 60 * n).splitlines()
    log = read("\n".join([*lines[:6], lines[5], *lines[6:]]) + "\n")
    assert (log.rows_read, log.channels[0].count) == (COUNT + 1, COUNT + 1)
    assert not log.rejected


def test_that_rows_that_were_not_written_leave_a_hole() -> None:
    lines = written(lambda n: 60 * n).splitlines()
    log = read("\n".join(line for n, line in enumerate(lines) if n not in {6, 10, 21, 22, 23}))
    assert log.channels[0].count == COUNT - 5
    assert not log.rejected


@pytest.mark.parametrize("first", ["Pit (F),Meat (F)", "Pit (F),Meat (F),Air (F)"])
def test_that_a_probe_that_comes_or_goes_is_a_channel_of_its_own_rows(first: str) -> None:
    second = "Pit (F),Meat (F),Air (F)" if first.count(",") == 1 else "Pit (F),Meat (F)"
    parts = []
    for head, begin in ((first, 0), (second, 30)):
        air = ",70.0" if "Air" in head else ""
        rows = (
            f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{pit(n):.1f},150.0{air}\n"
            for n in range(begin, begin + 30)
        )
        parts.append(f"Time,{head}\n" + "".join(rows))
    log = read("".join(parts))
    assert [(c.name, c.count, c.missing) for c in log.channels] == [
        ("Pit", 60, 0),
        ("Meat", 60, 0),
        ("Air", 30, 0),
    ]
    assert not log.rejected


def test_that_blanks_left_off_the_end_are_missing() -> None:
    text = "Time,Pit (F),Meat (F)\n" + "".join(
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{pit(n):.1f}{',150.0' * (n % 2)}\n"
        for n in range(COUNT)
    )
    log = read(text)
    assert [(c.count, c.missing) for c in log.channels] == [(60, 0), (30, 30)]


def test_that_a_row_of_remarks_is_no_row_of_marks() -> None:
    text = "Time,Pit (F),Meat (F)\n" + "".join(
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},"
        + ("remark,lid opened\n" if n % 15 == 7 else f"{pit(n):.1f},150.0\n")
        for n in range(COUNT)
    )
    log = read(text)
    assert [row.line for row in log.rejected] == [9, 24, 39, 54]
    assert [(c.count, c.missing) for c in log.channels] == [(56, 0), (56, 0)]


def test_that_a_word_that_comes_again_beside_readings_is_a_mark() -> None:
    text = "Time,Pit (F),Meat (F)\n" + "".join(
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{pit(n):.1f},"
        + ("pulled\n" if n > 40 else "150.0\n")
        for n in range(COUNT)
    )
    log = read(text)
    assert [(c.count, c.missing) for c in log.channels] == [(60, 0), (41, 19)]
    assert "mark_assumed" in kinds(log)


def test_that_a_damaged_record_of_another_kind_is_no_missing_reading() -> None:
    rows = [
        f'{{"time": "{BEGUN + dt.timedelta(minutes=n):%Y-%m-%dT%H:%M:%SZ}", '
        + ('"event": "lid"}' if n % 10 == 3 else f'"pit_f": {pit(n):.1f}}}')
        for n in range(COUNT)
    ]
    log = read("\n".join(rows))
    assert [(c.name, c.count, c.missing) for c in log.channels] == [("pit", 54, 0)]


# Clocks go on at 2:00 on 8 March and back at 2:00 on 1 November 2026 in the United States
# (Energy Policy Act of 2005, section 110).


def _zoned(begin: dt.datetime, minutes: Callable[[int], int]) -> ProbeLog:
    rows = (
        f"{begin + dt.timedelta(minutes=minutes(n)):%Y-%m-%d %H:%M},{pit(n):.1f}"
        for n in range(COUNT)
    )
    return read("\n".join(["Time,Pit (F)", *rows]) + "\n", timezone="America/New_York")


def test_that_the_hour_left_out_in_spring_leaves_no_gap() -> None:
    begin = dt.datetime(2026, 3, 8, 1, 30, tzinfo=dt.UTC)
    log = _zoned(begin, lambda n: n + (60 if n >= 30 else 0))
    assert np.diff(log.channels[0].times_s) == pytest.approx([60.0] * (COUNT - 1))
    assert log.channels[0].start == "2026-03-08T06:30:00+00:00"


def test_that_a_clock_nobody_changed_keeps_its_offset() -> None:
    spring = _zoned(dt.datetime(2026, 3, 8, 1, 30, tzinfo=dt.UTC), lambda n: n)
    assert np.diff(spring.channels[0].times_s) == pytest.approx([60.0] * (COUNT - 1))
    assert "clock_not_changed" in kinds(spring)
    autumn = _zoned(dt.datetime(2026, 11, 1, 0, 30, tzinfo=dt.UTC), lambda n: 3 * n)
    assert np.diff(autumn.channels[0].times_s) == pytest.approx([180.0] * (COUNT - 1))
    assert autumn.channels[0].start == "2026-11-01T04:30:00+00:00"
    assert "clock_not_changed" in kinds(autumn)


@pytest.mark.parametrize(
    ("pits", "other", "unit"),
    [
        ((225, 250), (38, 120), "degF"),
        ((225, 250), (38, 203), "degF"),
        ((250, 275), (20, 25), "degF"),
        ((105, 130), (4, 95), "degC"),
        ((220, 235), (4, 75), "degC"),
        ((20, 24), (6, 12), "degC"),
    ],
)
def test_that_a_unit_nobody_named_is_guessed(
    pits: tuple[int, int], other: tuple[int, int], unit: str
) -> None:
    # Ranges of pits, meat and weather: common practice, no source.
    series = [np.linspace(*bounds, COUNT) for bounds in (pits, other)]
    text = "Time,A,B\n" + "".join(
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{series[0][n]:.1f},{series[1][n]:.1f}\n"
        for n in range(COUNT)
    )
    log = read(text)
    assert [channel.unit_in_file for channel in log.channels] == [unit, unit]
    assert "unit_guessed" in kinds(log)


def test_that_a_channel_without_a_unit_takes_that_of_the_others() -> None:
    text = "Time,Pit (F),Meat\n" + "".join(
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{pit(n):.1f},{38 + n}.5\n"
        for n in range(COUNT)
    )
    log = read(text)
    assert [channel.unit_in_file for channel in log.channels] == ["degF", "degF"]
    assert "unit_guessed" in kinds(log)


def test_that_numbers_without_a_head_are_what_the_cook_says_they_count() -> None:
    rows = "".join(f"{5 * n}\t{pit(n):.1f}\t150.0\n" for n in range(COUNT))
    guessed = read(rows)
    assert "elapsed_guessed" in kinds(guessed)
    assert (guessed.read_as.counted, guessed.channels[0].interval_s) == ("s", 5.0)
    for said, interval in (("s", 5.0), ("min", 300.0)):
        told = read_probe_log(rows.encode(), "log.txt", ReadOptions(counted=said))
        assert "elapsed_told" in kinds(told)
        assert told.channels[0].interval_s == interval
    # A file that says it is not overruled.
    headed = ("Minutes\tPit (F)\tMeat (F)\n" + rows).encode()
    told = read_probe_log(headed, "log.txt", ReadOptions(counted="s"))
    assert told.channels[0].interval_s == 300.0


def test_that_rows_numbered_one_by_one_are_no_times_unless_their_interval_is_said() -> None:
    rows = "".join(f"{n}\t{pit(n):.1f}\t150.0\n" for n in range(COUNT))
    with pytest.raises(JournalError):
        read(rows)
    assert read("Interval: 20 s\n" + rows).channels[0].interval_s == 20.0


def test_that_a_log_without_years_goes_on_over_new_year() -> None:
    begun = dt.datetime(2025, 12, 31, 22, 0, tzinfo=dt.UTC)
    rows = "".join(
        f"{begun + dt.timedelta(minutes=5 * n):%m/%d %H:%M:%S},{pit(n):.1f},150.0\n"
        for n in range(COUNT)
    )
    log = read("Date: Jan 1 2026\nTime,Pit (F),Meat (F)\n" + rows)
    assert log.channels[0].start == "2025-12-31T22:00:00"
    assert log.channels[0].end == "2026-01-01T02:55:00"


def test_that_a_log_without_years_counts_over_the_end_of_february_as_its_rows_do() -> None:
    begun = dt.datetime(2024, 2, 28, 22, 0, tzinfo=dt.UTC)
    for year, day_after in ((2024, "29"), (2025, "01")):
        begun = dt.datetime(year, 2, 28, 22, 0, tzinfo=dt.UTC)
        moments = [begun + dt.timedelta(minutes=5 * n) for n in range(COUNT)]
        assert f"{moments[-1]:%d}" == day_after
        rows = "".join(f"{at:%b %d %H:%M:%S},{pit(n):.1f}\n" for n, at in enumerate(moments))
        log = read("Time,Pit (F)\n" + rows)
        assert log.channels[0].end_s == 300.0 * (COUNT - 1)


def test_that_rows_behind_a_gap_over_midnight_are_refused_where_their_date_is_lost() -> None:
    moments = [BEGUN + dt.timedelta(minutes=5 * n) for n in range(COUNT)]
    rows = [f",{at:%H:%M:%S},{pit(n):.1f}\n" for n, at in enumerate(moments)]
    rows[0] = f"{moments[0]:%Y-%m-%d}{rows[0]}"
    late = [f",{(at + dt.timedelta(hours=20)):%H:%M:%S},60.0\n" for at in moments[:12]]
    log = read("Date,Time,Pit (C)\n" + "".join([*rows, *late]))
    assert len(log.rejected) == 12
    assert log.channels[0].count == COUNT


def test_that_a_row_of_named_values_with_a_name_twice_is_two_rows_in_one() -> None:
    rows = [
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S} pit={pit(n):.1f}F meat=60.0F"
        for n in range(COUNT)
    ]
    rows[7:9] = [rows[7] + rows[8][30:]]
    log = read("\n".join(rows) + "\n")
    assert [row.line for row in log.rejected] == [8]
    assert log.channels[0].count == COUNT - 2


@pytest.mark.parametrize("unit", ["F", "°F", "degF"])
@pytest.mark.parametrize("names", [("1", "2"), ("Pit", "Meat")])
def test_that_an_amount_whose_rows_name_a_temperature_is_read_and_said(
    unit: str, names: tuple[str, str]
) -> None:
    rows = [
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{name},{value:.0f},{unit}\n"
        for n in range(COUNT)
        for name, value in zip(names, (pit(n), 40 + 2 * (n // 3)), strict=True)
    ]
    log = read("Time,Sensor,Count,Unit\n" + "".join(rows))
    assert [channel.name for channel in log.channels] == list(names)
    assert "column_taken" in kinds(log)
    meat = [(40 + 2 * (n // 3) - 32) / 1.8 for n in range(COUNT)]  # by definition of the scales
    assert log.channels[1].values_c == pytest.approx(meat, abs=0.01)


def test_that_a_number_far_from_its_neighbours_is_no_reading_with_a_word_behind() -> None:
    rows = [
        f"{BEGUN + dt.timedelta(minutes=n):%Y-%m-%d %H:%M:%S},{pit(n):.1f}" for n in range(COUNT)
    ]
    rows[7] = f"{rows[7].split(',')[0]},35 minutes"
    rows[9] += " mbar"
    rows[11] += " wood added"
    log = read("\n".join(["Time,Pit (F)", *rows, ""]))
    assert [row.line for row in log.rejected] == [9, 11]
    assert (log.channels[0].count, "word_left" in kinds(log)) == (COUNT - 2, True)
