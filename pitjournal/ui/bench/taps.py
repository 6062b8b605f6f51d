"""The ten taps at the foot of the bench."""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime

from PySide6.QtCore import Signal

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.event import EventKind
from pitjournal.domain.times.moments import show_ago, show_time
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.look import tokens
from pitjournal.ui.look.parts.buttons import Tap
from pitjournal.ui.look.parts.reflow import ByWidth
from pitjournal.ui.look.theme import px, sized

NARROW = 1100
"""Below this width the taps have room for few words, px."""

TAPS = (
    ("feel", "Feel"),
    ("on", "On"),
    ("lid", "Lid"),
    ("flip", "Flip"),
    ("spritz", "Spritz"),
    ("wrap", "Wrap"),
    ("lit", "Lit"),
    ("weigh", "Weigh"),
    ("photo", "Photo"),
    ("other", "Other…"),
)
PANELS = frozenset({"feel", "weigh", "photo", "other"})
"""Taps that open something; the others log an event."""


OF_NOBODY = frozenset({"lit", "lid", "photo", "other", "weigh"})
"""Taps that are for the whole cook, or ask themselves for whom."""


class TapLine(ByWidth):
    """One tap, one saved event; held, it asks when.

    Signals
    -------
    tapped(str), held(str)
        The name of a tap.
    """

    tapped = Signal(str)
    held = Signal(str)

    def __init__(self) -> None:
        super().__init__(tokens.S)
        self.taps: dict[str, Tap] = {}
        self._below: dict[str, str] = {}
        for name, text in TAPS:
            tap = Tap(text)
            tap.clicked.connect(self._emitter(self.tapped, name))
            tap.held.connect(self._emitter(self.held, name))
            self.taps[name] = tap
        self.fit()

    def fitting(self) -> int:
        """Return in how many rows the taps lie."""
        one = len(TAPS) * (px(tokens.TAP_WIDTH) + tokens.S) - tokens.S
        return 1 if self.width() >= one else 2

    def lay(self, layout: int) -> None:
        """Lay the taps in so many rows."""
        across = len(TAPS) // layout
        for place, tap in enumerate(self.taps.values()):
            self.grid.addWidget(tap, *divmod(place, across))
        for column in range(len(TAPS)):
            self.grid.setColumnStretch(column, int(column < across))

    @staticmethod
    def _emitter(signal: object, name: str) -> Callable[..., None]:
        return lambda *_: signal.emit(name)  # type: ignore[attr-defined]

    def show_cook(self, whole: WholeCook, now: datetime, due: str, *, all_on: bool) -> None:
        """Show when each was tapped last; `due` names the tap to do now."""
        lit = whole.first(EventKind.LIT) is not None
        self.taps["lit"].setText("Fuel" if lit else "Lit")
        self.taps["on"].setText("Off" if all_on else "On")
        self._below = {
            name: _last(whole, EventKind(name), now) for name in ("lid", "flip", "spritz", "wrap")
        }
        self._below["wrap"] = self._below["wrap"] or "in foil"
        self._below["feel"] = "then 1–7" if self.width() < px(NARROW) else "probe, then 1–7"
        for name, tap in self.taps.items():
            tap.make_primary(name == due or (name == "on" and due == "off"))

    def show_meant(self, meant: Mapping[str, str]) -> None:
        """Say on each tap for whom it is, where that is said; else when it was tapped last."""
        for name, tap in self.taps.items():
            below = self._below.get(name, "")
            tap.say_below(meant.get(name) or below)
            said = ", ".join(part for part in (meant.get(name, ""), below) if part)
            tap.setAccessibleDescription(said)


def _last(whole: WholeCook, kind: EventKind, now: datetime) -> str:
    last = whole.last(kind)
    if last is None or last.happened_at is None:
        return ""
    if whole.cook.status is CookStatus.DONE:
        return show_time(last.happened_at, whole.cook.zone)
    words = show_ago((now - last.happened_at).total_seconds())
    # "1 h 27 min ago" is too long for a tap; the hours say by themselves that it is past.
    return words.removesuffix(" ago") if " h " in words else words


def taps_of(kinds: Iterable[str]) -> set[str]:
    """Return the taps by which events of these kinds are logged."""
    names = {name for name, _ in TAPS}
    return {"on" if kind == EventKind.OFF else kind for kind in kinds} & names


def side_tap(text: str, open_it: Callable[[], None]) -> Tap:
    """Return a tap that opens something, as it stands beside the pieces."""
    tap = Tap(text)
    sized(tap, lines=1, width=tokens.TAP_WIDTH + tokens.S, height=tokens.TAP_HEIGHT)
    tap.clicked.connect(lambda *_: open_it())
    return tap
