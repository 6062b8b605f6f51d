"""Records: JSON in lines, arrays, nested objects, or column by column."""

import json
import re
from collections import Counter
from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any

from pitjournal.files.probe_log.asides import plain_words
from pitjournal.files.probe_log.tables.decode import not_a_log
from pitjournal.files.probe_log.tables.flat import flat_lists, flattened, scalar
from pitjournal.files.probe_log.tables.table import RowTable, Unread
from pitjournal.files.probe_log.times.find_clock import TIME_HEAD
from pitjournal.files.probe_log.times.stamps import any_time

_LARGEST = 60_000_000
"""Bytes of records; more is no log."""
_MOST_CELLS = 20_000_000
"""Of so many places for a value hardly one could be filled by records so short."""
_DEEPEST = 6
_EPOCH = re.compile(r"^\d{10}(?:\d{3})?(?:\.\d+)?$")
_LOOKED_AT, _FIRST_LINES = 20_000, 40
_MOST_DAMAGED = 200
"""After so many damaged records one after another nothing more is tried."""
_ENOUGH, _RARE = 20, 2
"""Of so many records a key that stands in so few may be a damaged one."""
_NEXT = re.compile(r"[\[{]")
DAMAGED = "the record is cut off or damaged"

Record = tuple[int, dict[str, str]]


def holds_records(data: bytes) -> bool:
    """Whether a text begins with a record, or most of its first lines do."""
    if data.lstrip()[:1] in {b"{", b"["}:
        return True
    lines = [line for line in data[:_LOOKED_AT].splitlines()[:_FIRST_LINES] if line.strip()]
    begun = sum(line.lstrip()[:1] == b"{" for line in lines)
    return len(lines) > 1 and begun > 0.5 * len(lines)


def records_table(data: bytes, name: str) -> RowTable | None:
    """Return records as rows below a row of their keys.

    None where there are no records.

    Raises
    ------
    JournalError
        If there are too many.
    """
    if len(data) > _LARGEST:
        raise not_a_log(name, "it is larger than any log of records")
    text = data.decode("utf-8", errors="replace").replace("\u2028", " ")
    above, text = _without_words_above(text)
    parser = _Parser(text)
    records, misnamed = without_misnamed(parser.records())
    if len(records) < 2:
        return None
    parser.context += above
    parser.unread = _without_words(parser.unread, text, records[-1][0]) + misnamed
    keys = tuple(dict.fromkeys(key for _, record in records for key in record))
    if len(keys) * len(records) > _MOST_CELLS:
        raise not_a_log(name, "its records have more values than those of any log")
    rows = [_short(keys), *(tuple(record.get(key, "") for key in keys) for _, record in records)]
    numbers = [0, *(line for line, _ in records)]
    return RowTable(rows, numbers, tuple(parser.context), parser.unread, records=True)


def _without_words_above(text: str) -> tuple[list[str], str]:
    """Return the lines of words above the first record, and the text with blank ones there."""
    begin = _NEXT.search(text)
    above = text[: begin.start()].rpartition("\n")[0] if begin else ""
    rest = text[len(above) :]
    return [line for line in above.splitlines() if line.strip()], "\n" * above.count("\n") + rest


def _without_words(unread: list[Unread], text: str, last: int) -> list[Unread]:
    """Return what could not be read without comments, and without words below the last record."""
    if not unread:
        return []
    lines = text.split("\n")
    return [
        row
        for row in unread
        if not lines[row.line - 1].lstrip().startswith(("#", "//"))
        and (row.line <= last or _NEXT.search(lines[row.line - 1]))
    ]


def without_misnamed(records: list[Record]) -> tuple[list[Record], list[Unread]]:
    """Return records without those of which a key was damaged, and these.

    Such a key stands in hardly any record, and is like a usual one that its record lacks.
    """
    counts = Counter(key for _, record in records for key in record)
    rare = {key for key, count in counts.items() if count <= _RARE}
    if len(records) < _ENOUGH or not rare:
        return records, []
    usual = [key for key, count in counts.items() if count > 0.5 * len(records)]
    kept, unread = [], []
    for line, record in records:
        lacks = [key for key in usual if key not in record]
        odd = [key for key in rare.intersection(record) if get_close_matches(key, lacks, 1)]
        if odd:
            unread.append(Unread(line, f"“{odd[0][:20]}” is the name of no other row's value"))
        else:
            kept.append((line, record))
    return kept, unread


def _short(keys: tuple[str, ...]) -> tuple[str, ...]:
    """Return keys without the path before them, where that leaves them different."""
    last = [key.rsplit(".", 1)[-1] or key for key in keys]
    return tuple(
        short if last.count(short) == 1 else key for key, short in zip(keys, last, strict=True)
    )


class _Parser:
    """Finds records in a text, and goes on behind damaged ones."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.context: list[str] = []
        self.unread: list[Unread] = []
        self._decoder = json.JSONDecoder()
        self._line, self._at = 1, 0

    def records(self) -> list[Record]:
        """Return each record's line and flat cells."""
        try:
            whole = json.loads(self.text)
        except (ValueError, RecursionError):
            return self._of_values(list(self._values()))
        if isinstance(whole, dict):
            return _keyed(whole) if _is_keyed(whole) else self._of_object(whole)
        return self._of_values(list(self._values()))

    def _line_of(self, place: int) -> int:
        """Return the line of a place in the text; places come in order."""
        self._line += self.text.count("\n", self._at, place)
        self._at = place
        return self._line

    def _values(self) -> Iterator[tuple[int, Any]]:
        """Return the values of an array, of lines or of what is left of them, with their lines."""
        text, damaged = self.text, 0
        place = len(text) - len(text.lstrip())
        if text[place : place + 1] == "[" and _is_list_of_parts(text, place):
            place += 1
        while place < len(text) and damaged < _MOST_DAMAGED:
            while place < len(text) and text[place] in " \t\r\n,":
                place += 1
            if place >= len(text) or text[place] == "]":
                return
            line = self._line_of(place)
            try:
                value, end = self._decoder.raw_decode(text, place)
            except (ValueError, RecursionError):
                self.unread.append(Unread(line, DAMAGED))
                end = self._behind(place)
                damaged += 1
            else:
                damaged = 0
                yield line, value
            place = max(end, place + 1)

    def _behind(self, place: int) -> int:
        """Return where reading goes on behind damage: the next line or record that begins."""
        line = self.text.find("\n", place + 1)
        found = _NEXT.search(self.text, place + 1)
        following = found.start() if found else len(self.text)
        if line >= 0 and self.text[line + 1 : line + 2] in {"{", "["}:
            return line + 1
        return following

    def _of_values(self, values: list[tuple[int, Any]]) -> list[Record]:
        dicts = [(line, value) for line, value in values if isinstance(value, dict)]
        if len(dicts) == 1 and len(values) == 1:
            return self._of_object(dicts[0][1])
        series = [record for _, value in dicts for record in _of_series(value)]
        if series and len(series) > 2 * len(dicts):
            return series
        if dicts:
            return [record for line, value in dicts for record in self._of_dict(line, value)]
        lists = [(line, value) for line, value in values if isinstance(value, list)]
        if len(lists) == 1:
            lists = [(lists[0][0], part) for part in lists[0][1] if isinstance(part, list)]
        return _of_lists(lists)

    def _of_dict(self, line: int, value: dict[str, Any]) -> list[Record]:
        """Return the records of one: itself, or one for each of the probes that it lists."""
        parts = {key: part for key, part in value.items() if _is_list_of_dicts(part)}
        flat = flattened({key: part for key, part in value.items() if key not in parts})
        if not parts:
            return [(line, flat)]
        return [(line, flat | flattened(part)) for listed in parts.values() for part in listed]

    def _of_object(self, whole: dict[str, Any]) -> list[Record]:
        """Return the records that stand somewhere in one object; the rest is context."""
        holder, key, found = _richest(whole)
        self._tell(whole, None if key is None else found)
        line = 1
        if key is None:
            return _of_columns(flat_lists(whole))
        if isinstance(found, dict):
            return _of_columns(flat_lists(found)) or _keyed(found)
        if all(isinstance(part, list) for part in found):
            names = next((v for k, v in holder.items() if k != key and _is_names(v)), None)
            return _of_lists(
                [(line, names), *((line, part) for part in found)]
                if names
                else [(line, part) for part in found]
            )
        series = [record for part in found for record in _of_series(part)]
        if series:
            return series
        return [
            record
            for part in found
            if isinstance(part, dict)
            for record in self._of_dict(self._found_line(part), part)
        ]

    def _found_line(self, part: dict[str, Any]) -> int:
        """Return the line on which a record begins, as near as its first key says."""
        first = next(iter(part.items()), None)
        if first is None:
            return self._line
        sought = json.dumps(first[0]) if not isinstance(first[1], str) else json.dumps(first[1])
        place = self.text.find(sought, self._at)
        if place < 0:
            return self._line
        line = self._line_of(place)
        self._at = place + 1
        return line

    def _tell(self, value: object, skipped: object, before: str = "", depth: int = 0) -> None:
        """Keep what stands outside the records as lines of words."""
        if value is skipped or depth > _DEEPEST or not isinstance(value, dict):
            return
        for key, part in value.items():
            if isinstance(part, str | int | float):
                self.context.append(f"{before}{key}: {part}")
            else:
                self._tell(part, skipped, f"{key} ", depth + 1)


def _is_list_of_parts(text: str, place: int) -> bool:
    found = re.match(r"\s*[\[{]", text[place + 1 : place + 200])
    return found is not None


def _is_list_of_dicts(part: object) -> bool:
    return isinstance(part, list) and bool(part) and all(isinstance(item, dict) for item in part)


def _is_names(part: object) -> bool:
    return isinstance(part, list) and bool(part) and all(isinstance(item, str) for item in part)


def _of_columns(lists: dict[str, list[Any]]) -> list[Record]:
    """Return the records of lists that are as long as the longest."""
    size = max(map(len, lists.values()), default=0)
    alike = {key: part for key, part in lists.items() if len(part) == size}
    if size < 2 or len(alike) < 2:
        return []
    return [
        (1, {key: scalar(part[row]) or "" for key, part in alike.items()}) for row in range(size)
    ]


def _of_lists(lists: list[tuple[int, Any]]) -> list[Record]:
    """Return the records of rows that are lists, the first one perhaps of names."""
    if not lists:
        return []
    names = lists[0][1] if _is_names(lists[0][1]) and not _has_digits(lists[0][1]) else None
    rows = lists[1:] if names else lists
    return [
        (
            line,
            {
                (names[place] if names and place < len(names) else f"{place + 1}"): scalar(cell)
                or ""
                for place, cell in enumerate(row)
            },
        )
        for line, row in rows
    ]


def _has_digits(names: list[str]) -> bool:
    return bool(names) and sum(char.isdecimal() for char in names[0]) > 3


def _keyed(found: dict[str, Any]) -> list[Record]:
    """Return the records of an object whose keys are times."""
    records = [
        (1, {"time": key} | flattened(part))
        for key, part in found.items()
        if isinstance(part, dict)
    ]
    if records:
        return records
    return [(1, {"time": key, "temperature": scalar(part) or ""}) for key, part in found.items()]


def _is_keyed(found: dict[str, Any]) -> bool:
    """Whether an object's keys are times."""
    keys = list(found)[:50]
    return len(found) > 1 and all(any_time(key) or _EPOCH.match(key) for key in keys)


def _of_series(part: object) -> list[Record]:
    """Return the records of one channel that holds its own points or lists."""
    if not isinstance(part, dict):
        return []
    said = flattened({key: value for key, value in part.items() if not isinstance(value, list)})
    lists = flat_lists(part)
    if len(lists) >= 2 and any(TIME_HEAD.search(plain_words(key)) for key in lists):
        return [(line, said | record) for line, record in _of_columns(lists)]
    for points in part.values():
        if _is_list_of_dicts(points) and len(points) > 1:
            return [(1, said | flattened(point)) for point in points]
        if (
            isinstance(points, list)
            and len(points) > 1
            and all(isinstance(p, list) and len(p) == 2 for p in points)
        ):
            return [
                (1, said | {"time": scalar(p[0]) or "", "value": scalar(p[1]) or ""})
                for p in points
            ]
    return []


def _richest(whole: dict[str, Any]) -> tuple[dict[str, Any], str | None, Any]:
    """Return where the most records stand in an object: their holder, key and value."""
    best: tuple[int, dict[str, Any], str | None, Any] = (0, whole, None, whole)
    ahead: list[tuple[dict[str, Any], int]] = [(whole, 0)]
    while ahead:
        holder, depth = ahead.pop()
        for key, part in holder.items():
            size = 0
            if isinstance(part, list) and part and all(isinstance(p, dict | list) for p in part):
                size = len(json.dumps(part))
            elif isinstance(part, dict):
                if _is_keyed(part):
                    size = len(json.dumps(part))
                elif depth < _DEEPEST:
                    ahead.append((part, depth + 1))
            if size > best[0]:
                best = (size, holder, key, part)
    return best[1], best[2], best[3]
