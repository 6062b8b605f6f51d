"""A plan as a calendar file, held against RFC 5545; the numbers are its sections."""

import re
from datetime import UTC, datetime, timedelta, timezone

import pytest

from pitjournal.files.plan_calendar import CalendarStep, to_calendar

STAMP = datetime(2026, 5, 1, 20, 30, tzinfo=timezone(timedelta(hours=-5)))
EIGHT = datetime(2026, 5, 2, 8, 0, tzinfo=timezone(timedelta(hours=-5)))


def unfolded(text: str) -> list[str]:
    """Return the content lines (3.1): a line end followed by a space is taken away."""
    return re.sub("\r\n[ \t]", "", text).split("\r\n")[:-1]


def entries(text: str) -> list[dict[str, list[str]]]:
    """Return each entry's values by name."""
    found: list[dict[str, list[str]]] = []
    for line in unfolded(text):
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            found.append({})
        elif found:
            found[-1].setdefault(name, []).append(value)
    return found


def test_that_an_entry_has_what_it_must_have() -> None:
    step = CalendarStep("abc", EIGHT, "Light the fire; set 250 °F")
    text = to_calendar("Ribs, twice", [step], STAMP)
    lines = unfolded(text)
    assert lines[0] == "BEGIN:VCALENDAR"  # 3.4
    assert lines[-1] == "END:VCALENDAR"
    assert lines.count("VERSION:2.0") == 1  # 3.7.4
    assert sum(line.startswith("PRODID:") for line in lines) == 1  # 3.7.3
    (entry,) = entries(text)
    assert entry["UID"] == ["abc@pitjournal"]  # 3.8.4.7
    assert entry["DTSTAMP"] == ["20260502T013000Z"]  # 3.8.7.2: UTC; 20:30 at −5 h
    assert entry["DTSTART"] == ["20260502T080000"]  # 3.3.5, form 1: local, neither Z nor TZID
    assert entry["SUMMARY"] == [r"Light the fire\; set 250 °F"]  # 3.3.11
    assert r"Ribs\, twice" in entry["DESCRIPTION"]
    begin, end = lines.index("BEGIN:VALARM"), lines.index("END:VALARM")  # 3.6.6
    alarm = dict(line.split(":", 1) for line in lines[begin + 1 : end])
    assert alarm["ACTION"] == "DISPLAY"
    assert alarm["DESCRIPTION"]
    assert re.fullmatch(r"-PT\d+M", alarm["TRIGGER"])  # 3.3.6


@pytest.mark.parametrize("words", ["spritz " * 40, "half ½ and ° " * 30, "a" * 66, "é" * 33])
def test_that_lines_are_folded_at_75_octets_and_no_letter_is_cut(words: str) -> None:
    text = to_calendar("Ribs", [CalendarStep("abc", EIGHT, words.strip())], STAMP)
    raw = text.encode()
    assert raw.endswith(b"\r\n")
    assert raw.count(b"\n") == raw.count(b"\r\n") == raw.count(b"\r")
    for line in raw.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()  # a cut letter would raise
    (entry,) = entries(text)
    assert entry["SUMMARY"] == [words.strip()]


def test_that_words_with_line_ends_and_backslashes_stay_one_value() -> None:
    step = CalendarStep("abc", EIGHT, "first\nsecond\r\nEND:VEVENT \\ \x07 end")
    (entry,) = entries(to_calendar("Ribs", [step], STAMP))
    assert entry["SUMMARY"] == [r"first\nsecond\nEND:VEVENT \\  end"]


def test_that_each_step_is_an_entry_with_a_name_of_its_own() -> None:
    steps = [
        CalendarStep(str(n), (EIGHT + timedelta(hours=n)).astimezone(UTC), "Spritz")
        for n in range(3)
    ]
    found = entries(to_calendar("Ribs", steps, STAMP))
    assert len({entry["UID"][0] for entry in found}) == 3
    assert [entry["DTSTART"][0] for entry in found] == [
        "20260502T130000",  # 8:00 at −5 h, as it is given
        "20260502T140000",
        "20260502T150000",
    ]
