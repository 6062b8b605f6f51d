"""Lines of named values: pit=118.5 meat=41.2, or Pit: 118.5, Meat: 41.2."""

import itertools
import re
from collections import Counter
from collections.abc import Sequence

from pitjournal.files.probe_log.tables.cuts import CUT, looks_cut
from pitjournal.files.probe_log.tables.records import without_misnamed
from pitjournal.files.probe_log.tables.table import BLANK, Lines, RowTable, Unread, sampled
from pitjournal.files.probe_log.times.stamps import any_time

_MARKS = (",", ";", "\t", "|", BLANK)
_SIGNS = ("=", ":")
_PAIR = {
    sign: re.compile(rf"^([^\W\d][^=:]{{0,40}}?)\s*{sign}\s*(.*)$", re.DOTALL) for sign in _SIGNS
}
_NAMED = re.compile(r"\b[^\W\d]\w*[^=:\w]{0,3}[=:]")
_WORDS = re.compile(r'(?:[^\s"]|"[^"]*")+')
_CLOSE = {"=": re.compile(r"\s*=\s*"), ":": re.compile(r"(?<=\w):\s+(?=\S)")}
_SHARE = 0.6
"""Of the sampled lines so many are of one form."""
_BEFORE = 3
"""Cells that may stand before the first name: a time, a date, a device."""
_TIME = "time"
_MODELS = 40
TWICE = "“{}” stands in it twice"

Pairs = tuple[tuple[str, str], ...]


def pairs_table(lines: Lines) -> RowTable | None:
    """Return lines of named values as rows below a row of the names; None where they are none.

    What stands before the first name is taken for the time.
    """
    texts = [text for place in sampled(len(lines)) if (text := lines.text(place)).strip()]
    if sum(_NAMED.search(text) is not None for text in texts) < _SHARE * len(texts):
        return None
    found = [
        (share, mark, sign)
        for mark, sign in itertools.product(_MARKS, _SIGNS)
        if (share := _share(texts, mark, sign)) >= _SHARE
    ]
    if len(texts) < 2 or not found:
        return None
    _, mark, sign = max(found, key=lambda form: form[0])
    return _table(lines, mark, sign)


def _share(texts: Sequence[str], mark: str, sign: str) -> float:
    """Return the share of lines that are pairs of the names that most have."""
    lines = [_pairs(text, mark, sign) for text in texts]
    forms = Counter(tuple(name for name, _ in pairs) for pairs in lines if pairs)
    # A probe that comes and goes gives a few forms.
    often = sum(count for _, count in forms.most_common(3))
    return often / len(texts) if texts else 0.0


def _pairs(text: str, mark: str, sign: str) -> Pairs:
    """Return a line's names and values, the time first; nothing where it is no such line."""
    if mark == BLANK:
        parts = _WORDS.findall(_CLOSE[sign].sub(sign, text))
    else:
        parts = [part.strip() for part in text.split(mark)]
    pairs: list[tuple[str, str]] = []
    before: list[str] = []
    for part in parts:
        found = None if any_time(part) else _PAIR[sign].match(part)
        if found:
            pairs.append((found[1].strip(), found[2].strip().strip('"')))
        elif part and pairs:
            return ()
        elif part:
            before.append(part)
    if len(before) > _BEFORE or len(pairs) < (1 if before else 2):
        return ()
    return ((_TIME, " ".join(before)), *pairs) if before else tuple(pairs)


def _table(lines: Lines, mark: str, sign: str) -> RowTable:
    records: list[tuple[int, dict[str, str]]] = []
    others: list[tuple[int, str]] = []
    unread: list[Unread] = []
    for place in range(len(lines)):
        text = lines.text(place)
        pairs = _pairs(text, mark, sign)
        cells = dict(pairs)
        if pairs and len(cells) == len(pairs):
            records.append((place + 1, cells))
        elif pairs:
            often = Counter(name for name, _ in pairs).most_common(1)[0][0]
            unread.append(Unread(place + 1, TWICE.format(often[:20])))
        elif text.strip():
            others.append((place + 1, text))
    if lines.cut:
        unread += _cut(records, others, len(lines), lines)
    first, last = records[0][0], records[-1][0]
    context = tuple(text for line, text in others if line < first)
    # Below the last row stands a footer; between rows, what was a row.
    unread += [
        Unread(line, "it is no row of named values")
        for line, text in others
        if first < line < last and not text.lstrip().startswith("#")
    ]
    records, misnamed = without_misnamed(records)
    unread += misnamed
    names = tuple(dict.fromkeys(name for _, cells in records for name in cells))
    rows = [names, *(tuple(cells.get(name, "") for name in names) for _, cells in records)]
    return RowTable(
        rows, [0, *(line for line, _ in records)], context, unread, lines.cut, records=True
    )


def _cut(
    records: list[tuple[int, dict[str, str]]], others: list[tuple[int, str]], end: int, lines: Lines
) -> list[Unread]:
    """Take a last line without an end out of the records, or the others, where it is cut off."""
    models = [lines.text(line - 1) for line, _ in records[-_MODELS:] if line < end]
    text = lines.text(end - 1)
    usual = max((len(cells) for _, cells in records[-_MODELS:]), default=0)
    if records[-1][0] == end and len(records[-1][1]) < usual and looks_cut(text, models):
        records.pop()
        return [Unread(end, CUT)]
    if others and others[-1][0] == end and looks_cut(text, models):
        others.pop()
        return [Unread(end, CUT)]
    return []
