"""A ribbon in words and as a table, for those who cannot see it."""

from collections.abc import Callable, Sequence

from pitjournal.domain.day.course import Part, Stretch
from pitjournal.domain.day.ribbon import Mark, Ribbon

NOTHING = "Nothing is planned or logged yet."
MOST = 12
"""A sentence names so many things; the table has them all."""

Clock = Callable[[float], str]

_NOW = {
    Part.LIT: "Lit",
    Part.ON: "On",
    Part.WRAPPED: "Wrapped",
    Part.REST: "At rest",
    Part.HELD: "Held",
}


def ribbon_sentence(ribbon: Ribbon, clock: Clock) -> str:
    """Return what happened, what is now and what is still planned, in words."""
    done = _marks_words([mark for mark in ribbon.marks if not mark.planned], clock)
    planned = _marks_words([mark for mark in ribbon.marks if mark.planned], clock)
    parts = [f"So far {done}" if ribbon.now is not None else f"As it went: {done}"] if done else []
    parts += [now] if (now := _now(ribbon)) else []
    parts += [f"Planned {planned}"] if planned else []
    if ribbon.turn_in is not None and not any(m.at == ribbon.turn_in for m in ribbon.marks):
        parts.append(f"Served {clock(ribbon.turn_in)}")
    if ribbon.fan is not None:
        fan = ribbon.fan
        said = f"Off most likely {clock(fan.likely)}, between {clock(fan.early)} and "
        said += f"{clock(fan.late)} in {round(100 * fan.share)} of 100 such cooks"
        if fan.surely_early is not None:
            late = "later" if fan.surely_late is None else clock(fan.surely_late)
            said += f", and between {clock(fan.surely_early)} and {late} in 90"
        parts.append(said)
    return ". ".join(parts) + "." if parts else NOTHING


def _marks_words(marks: Sequence[Mark], clock: Clock) -> str:
    said = [mark_words(mark, clock) for mark in marks[:MOST]]
    more = len(marks) - MOST
    return ", ".join([*said, *([f"and {more} more"] if more > 0 else [])])


def mark_words(mark: Mark, clock: Clock) -> str:
    """Return a mark as it is said: "wrap in foil 11:45 for Injected"."""
    return f"{mark.word} {clock(mark.at)}" + (f" for {mark.who}" if mark.who else "")


def _now(ribbon: Ribbon) -> str:
    """Say what goes on at this moment, and in which lanes."""
    found: dict[str, list[str]] = {}
    for lane in ribbon.lanes:
        said = dict.fromkeys(_open(one) for course in lane.courses for one in course if one.open)
        for words in said:
            found.setdefault(words, []).append(lane.name)
    every = {lane.name for lane in ribbon.lanes}
    told = [
        f"{words} now" + ("" if set(names) == every else f": {', '.join(names)}")
        for words, names in found.items()
    ]
    return "; ".join(told)


def _open(stretch: Stretch) -> str:
    said = _NOW.get(stretch.part, str(stretch.part).capitalize())
    return f"{said} in {stretch.word}" if stretch.word else said


def ribbon_table(ribbon: Ribbon, clock: Clock) -> list[list[str]]:
    """Return a row a mark: what, for whom, when it was planned and when it happened."""
    rows = [["what", "for", "planned", "happened"]]
    for mark in ribbon.marks:
        wanted = "" if mark.wanted is None else clock(mark.wanted)
        happened = "not yet" if mark.planned else clock(mark.at)
        rows.append([mark.word, mark.who or "all", wanted or "not planned", happened])
    return rows
