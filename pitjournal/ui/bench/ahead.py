"""When the meat comes off: one line over the day's picture, worked out off this thread."""

from collections.abc import Callable, Sequence
from datetime import datetime

from pitjournal.domain.day.ribbon import Fan
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import ComesOff
from pitjournal.ui.desk import Desk
from pitjournal.ui.forecasts import CAUTION, LATER
from pitjournal.ui.look.parts.words import Elided

DAY = 86_400.0
"""A bound that nobody knows is drawn so much later than what is likely, s."""


def sentence(found: Sequence[ComesOff], zone: str, now: datetime) -> str:
    """Return the line for the piece that comes off first; empty where nothing can be said."""
    first = next((one for one in found if one.likely is not None), None)
    if first is None:
        refused = next((one.refused for one in found if one.refused), "")
        return why_no_time(refused)
    assert first.likely is not None
    early, likely, late = (
        LATER if at is None else show_moment(at, zone, now)
        for at in (first.early, first.likely, first.late)
    )
    which = f"{first.label} comes off" if len(found) > 1 else "Comes off"
    chance = "" if first.in_time is None else f", {chance_words(first.in_time)} in time"
    return f"{which} between {early} and {late}, most likely {likely}{chance}"


def rests_words(one: ComesOff | None, zone: str, now: datetime) -> str:
    """Return what an alarm that follows a forecast rests on; why there is none; "" of nothing."""
    if one is None:
        return ""
    if one.likely is None:
        return why_not(one.refused)
    said = f"off most likely {show_moment(one.likely, zone, now)}"
    if one.early is not None and one.late is not None:
        early, late = (show_moment(at, zone, now) for at in (one.early, one.late))
        said += f", {early} to {late}"
    return f"{said}; by {', '.join(one.rests_on)}" if one.rests_on else said


def why_not(refused: str) -> str:
    """Return why there is no forecast; "" where the target is reached, or nothing is known."""
    return f"No forecast: {refused}" if refused and refused != "reached" else ""


def why_no_time(refused: str) -> str:
    """Return why nobody can say when: too early yet, or why there is no forecast."""
    return f"Too early to say when: {refused}" if "ten minutes" in refused else why_not(refused)


def chance_words(share: float) -> str:
    """Return a chance as it may be said: never none and never certain."""
    percent = round(100 * share)
    return "under 5 %" if percent < 5 else "over 95 %" if percent > 95 else f"{percent} %"


def each(found: Sequence[ComesOff], zone: str, now: datetime) -> list[str]:
    """Return a line for each piece that has a time: when, for certain, and when to start probing.

    Parameters
    ----------
    found
        The pieces.
    zone, now
        Of the cook, for the clock.
    """
    lines = []
    for one in found:
        if one.likely is None:
            continue
        late = one.surely_late
        nine = "" if one.surely_early is None else show_moment(one.surely_early, zone, now)
        last = LATER if late is None else show_moment(late, zone, now)
        said = f"{one.label}: most likely {show_moment(one.likely, zone, now)}"
        said += f", nine in ten between {nine} and {last}" if nine else ""
        if one.probe_from is not None and one.probe_from > now:
            said += f", start probing at {show_moment(one.probe_from, zone, now)}"
        lines.append(said)
    return lines


def reasons(found: Sequence[ComesOff], degrees: Callable[[float], str]) -> str:
    """Return what the line rests on, for whoever asks."""
    lines = [
        f"{one.label}, to {degrees(one.target)}{', where yours felt right' if one.by_feel else ''}: "
        f"{'; '.join(one.rests_on)}"
        for one in found
    ]
    lines.append(CAUTION)
    return "\n".join(lines)


def fan_of(found: Sequence[ComesOff], piece_id: str = "") -> Fan | None:
    """Return when a piece comes off for the day's ribbon; of no piece, that which is off first.

    None where it is refused or nothing is known.
    """
    known = [one for one in found if one.likely is not None]
    one = next((one for one in known if not piece_id or one.piece_id == piece_id), None)
    if one is None or one.likely is None or one.early is None:
        return None
    likely = one.likely.timestamp()
    late = one.late.timestamp() if one.late is not None else likely + DAY
    surely_early, surely_late = (
        None if at is None else at.timestamp() for at in (one.surely_early, one.surely_late)
    )
    return Fan(one.early.timestamp(), likely, late, 0.5, surely_early, surely_late)


class AheadLine(Elided):
    """The line; what it says is worked out elsewhere."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("", "strong")
        self._desk = desk
        self.hide()

    def show_cook(self, whole: WholeCook, degrees: Callable[[float], str]) -> None:
        """Show what is known of a cook."""
        found, now = self._desk.forecasts.found(whole.cook.id), self._desk.now()
        said = sentence(found, whole.cook.zone, now)
        self.show_text(said)
        self.setVisible(bool(said))
        if said:
            more = each(found, whole.cook.zone, now)
            self.setToolTip("\n".join([said, *more, reasons(found, degrees)]))
            self.setAccessibleName(said)
