"""Dates, and the time from row to row, that stand beside the rows."""

import re
from collections.abc import Sequence

from pitjournal.files.probe_log.times.find_clock import factor_named
from pitjournal.files.probe_log.times.stamps import Moment, read_elapsed, read_stamp

_CLOCK = r"(?:[\sT,]+\d{1,2}:\d{2}(?::\d{2})?(?:\s*[ap]\.?m\.?)?)?"
_DATE = re.compile(
    rf"(?:\d{{4}}[-/.]\d{{1,2}}[-/.]\d{{1,2}}|\d{{1,2}}[-/.]\s?\d{{1,2}}[-/.]\s?\d{{2,4}}"
    rf"|\d{{1,2}}[\s.-]+(?:de\s+)?[^\W\d_]{{3,10}}\.?[\s,-]+(?:de\s+)?\d{{4}}"
    rf"|[^\W\d_]{{3,10}}\.?\s+\d{{1,2}},?\s+\d{{4}}|(?<!\d)(?:19|20)\d{{6}}(?!\d)){_CLOCK}",
    re.IGNORECASE,
)
_START = re.compile(
    r"start|begin|began|beginn|first|since|début|inicio|inizio|lancé|from\b", re.IGNORECASE
)
_DAY = re.compile(r"date|datum|fecha|\bdata\b|day|tag\b|log|record|session|cook", re.IGNORECASE)
_OTHER = re.compile(
    r"calib|export|print|download|built|build|firmware|version|due|manufact|serial|end|stop|last|"
    r"expir|battery|warrant|created by|service",
    re.IGNORECASE,
)


def date_in(lines: Sequence[str]) -> tuple[Moment, bool] | None:
    """Return the date of the log in the lines beside its rows, and whether it is its start.

    A line that speaks of a start wins over one of a date, and that over a bare one; dates of
    a calibration, an export or a version are none of the log's.
    """
    best: tuple[int, Moment, bool] | None = None
    for line in lines:
        for found in _DATE.finditer(line):
            moment = read_stamp(found[0])
            words = line[: found.start()]
            if moment is None or (_OTHER.search(words) and not _START.search(words)):
                continue
            started = bool(_START.search(words))
            rank = 2 if started else 1 if _DAY.search(words) else 0
            if best is None or rank > best[0]:
                best = (rank, moment, started)
            break
    return None if best is None else (best[1], best[2])


_INTERVAL = re.compile(
    r"(?:interval|intervall|intervalo|intervalle|sampl\w*|logg?\w*|record\w*|rate|period|every)\b"
    r"[^0-9]{0,24}?(?:[\[(]\s*(?P<before>[a-zµ]+)\s*[\])])?[^0-9a-z]{0,8}"
    r"(?:(?P<clock>\d+:\d\d(?::\d\d)?)|(?P<number>\d+(?:[.,]\d+)?)\s*(?P<unit>[a-z]+)?)",
    re.IGNORECASE,
)
_RATED = re.compile(r"interval|rate|period|every|\bint\b", re.IGNORECASE)


def interval_in(lines: Sequence[str]) -> float | None:
    """Return the seconds from row to row that the lines beside the rows state, or None.

    A number without a unit, and a clock of two parts, say nothing.
    """
    for line in lines:
        found = _INTERVAL.search(line) if _RATED.search(line) else None
        if found is None:
            continue
        if found["clock"]:
            seconds = read_elapsed(found["clock"]) if found["clock"].count(":") == 2 else None
        else:
            number = float(found["number"].replace(",", "."))
            unit = (found["unit"] or found["before"] or "").casefold()
            if unit == "hz":
                seconds = 1.0 / number if number else None
            else:
                factor = factor_named(unit)
                seconds = None if factor is None else number * factor
        if seconds:
            return seconds
    return None
