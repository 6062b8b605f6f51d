"""The note of a cook of before: its remarks, and all of its rows that no field takes."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from pitjournal.domain.arm_names import arm_key
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.event import EventKind
from pitjournal.domain.times.moments import hours_words
from pitjournal.files.old_cooks import OldCook
from pitjournal.files.old_cooks.fitting import DIMENSIONS
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import percent, trimmed

OF_COOK = frozenset(
    {"cooker", "set_point", "ambient", "wind", "humidity", "weather", "place", "cost", "wood"}
    | {"rub", "fuel_used"}
)
"""What a cook has once: where its rows say several, the first counts and the others are notes."""

_TIMES = frozenset({"time_on", "time_to_wrap", "time_wrapped", "time_rested"})
_NO_FIELD = frozenset({"yield_off", "pieces", "price"})
_MINUTE = 60.0


def moments(row: OldCook) -> list[tuple[EventKind, float]]:
    """Return what a row says of its day: what happened, and how many minutes after it went on."""
    lasted, rested = _minutes(row, "time_on"), _minutes(row, "time_rested")
    wrapped, within = _minutes(row, "time_to_wrap"), _minutes(row, "time_wrapped")
    if lasted is None:
        return []
    times = [(EventKind.ON, 0.0), (EventKind.OFF, lasted)]
    if wrapped is not None and row.values.get("wrap") != "none" and wrapped <= lasted:
        times.append((EventKind.WRAP, wrapped))
        if within is not None and wrapped + within < lasted:
            times.append((EventKind.UNWRAP, wrapped + within))
    if rested is not None:
        times.append((EventKind.SLICED, lasted + rested))
    return times


def _in_moments(row: OldCook) -> set[str]:
    """Return which lengths of time the moments of a row give back."""
    kinds = dict(moments(row))
    kept = {"time_on"} if EventKind.ON in kinds else set()
    if EventKind.WRAP in kinds:
        until = kinds.get(EventKind.UNWRAP, kinds[EventKind.OFF])
        kept.add("time_to_wrap")
        if (within := _minutes(row, "time_wrapped")) is not None:
            kept |= {"time_wrapped"} if until - kinds[EventKind.WRAP] == within else set()
    return kept | ({"time_rested"} if EventKind.SLICED in kinds else set())


def note_of(rows: Sequence[OldCook], known_kind: bool) -> str:
    """Return the notes, and below them what fits no field, by its name: nothing typed is lost.

    Parameters
    ----------
    rows
        The rows of one cook.
    known_kind
        Whether what they say of the kind of cook became its kind.
    """
    first: dict[str, object] = {}
    for row in rows:
        for key, value in row.values.items():
            first.setdefault(key, value)
    lines: list[str] = []
    for place, row in enumerate(rows, 1):
        notes = row.values.get("notes")
        lines += [notes] if isinstance(notes, str) else []
        lines += [row.title] if row.title and row.title != rows[0].title else []
        said = {_label(key): _words(key, row) for key in _left(row, rows, first, known_kind)}
        for head, text in {**said, **row.others}.items():
            alone = len(rows) == 1 or all(_says(one, head, text, said) for one in rows)
            lines.append(f"{head}: {text}" if alone else f"piece {place}, {head}: {text}")
    return "\n".join(dict.fromkeys(lines))


def _says(row: OldCook, head: str, text: str, said: Mapping[str, str]) -> bool:
    """Whether a row says the same under a head, or nothing, so that it need not say whose it is."""
    return head not in said and row.others.get(head, text) == text


def _left(
    row: OldCook, rows: Sequence[OldCook], first: Mapping[str, object], known_kind: bool
) -> Iterator[str]:
    """Yield the values of a row that no record takes."""
    in_moments = _in_moments(row)
    for key, value in row.values.items():
        lost = key in _NO_FIELD or (key in _TIMES and key not in in_moments)
        lost |= key in OF_COOK and value != first[key]
        lost |= key == "fuel" and ("fuel_used" not in first or value != first[key])
        lost |= key == "kind" and not known_kind
        lost |= key == "wrap" and not _wrap_is_told(row, rows)
        lost |= isinstance(value, Mapping) and key in row.written  # words beside a score
        if lost:
            yield key


def _wrap_is_told(row: OldCook, rows: Sequence[OldCook]) -> bool:
    """Whether a piece's wrap stands with its arm or its moments."""
    named = row.values.get("arm")
    if not isinstance(named, str):
        return True
    same = {
        one.values.get("wrap")
        for one in rows
        if arm_key(str(one.values.get("arm"))) == arm_key(named)
    }
    return len(same) == 1 or any(kind is EventKind.WRAP for kind, _ in moments(row))


def _minutes(row: OldCook, key: str) -> float | None:
    value = row.values.get(key)
    return float(value) if isinstance(value, int | float) else None


@cache
def _labels() -> Mapping[str, str]:
    catalogue = Catalogue()
    return {key: catalogue[key].label for key in catalogue}


def _label(key: str) -> str:
    return _labels().get(key, key.replace("_", " "))


def _words(key: str, row: OldCook) -> str:
    """Return a value as it was typed, else in words; metric where it was read by its unit."""
    value = row.values[key]
    if key in row.written or not isinstance(value, int | float):
        return row.written.get(key, str(value))
    if key in {"yield_off", "humidity"}:
        return percent(value)
    dimension = DIMENSIONS.get(key)
    if dimension == "duration":
        return hours_words(_MINUTE * value)
    shown = {"mass": Dimension.MASS, "temperature": Dimension.TEMPERATURE, "speed": Dimension.SPEED}
    if dimension in shown:
        return show(value, shown[dimension], UnitSystem.METRIC)
    return trimmed(value)
