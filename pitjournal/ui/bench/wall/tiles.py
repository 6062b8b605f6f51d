"""What a tile of the bench at arm's length says of a piece."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import Enum

from pitjournal.analysis.bench.live import Live
from pitjournal.domain.cuts import find_cut
from pitjournal.domain.event import EventKind, Feel, feel_of
from pitjournal.domain.times.moments import show_moment
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.ahead import ComesOff
from pitjournal.ui.bench.model import Life, PieceNow
from pitjournal.units import Dimension, UnitSystem, show

EARLY = 10 / 1.8
"""Probing starts about 10 °F below where such meat comes off (common practice, no source), K."""

COLD = 4.4
"""Where nobody measured how cold a piece went on, its ring begins at 40 °F, as a refrigerator is
kept (USDA FSIS, Refrigeration and Food Safety; from memory), °C."""

STALE = 30 * 60.0
"""A reading by hand that is older steps back, s."""


class Sign(Enum):
    """How a piece is, by word, shape and edge."""

    NOT_FELT = "not felt yet"
    PROBE = "PROBE"
    UNDER = "UNDER"
    RIGHT = "RIGHT"
    OVER = "OVER"
    OFF = "OFF"
    WAITING = "not on yet"


@dataclass(frozen=True)
class Tile:
    """A piece at arm's length.

    `share` is how far it has come towards start probing, 0 to 1; None where that is not known.
    `quiet` says that its temperature is old.
    """

    piece_id: str
    label: str
    look: int | None
    number: str
    rise: str
    sign: Sign
    below: str
    off: str
    share: float | None
    quiet: bool = False

    @property
    def spoken(self) -> str:
        """The tile in words, for whoever listens."""
        state = f"{self.sign.value.lower()} {self.below}".strip()
        off = "take it off" if self.sign is Sign.OVER else f"off {self.off}" if self.off else ""
        parts = (self.label, self.number or "no temperature", state, off)
        return ", ".join(part for part in parts if part)


def tile_of(  # noqa: PLR0917 - a piece, and what is known beside it
    whole: WholeCook,
    now_piece: PieceNow,
    live: Live | None,
    target: float | None,
    system: UnitSystem,
    now: datetime,
) -> Tile:
    """Return the tile of a piece; `target` is where it is to start being probed, °C."""
    piece, zone = now_piece.piece, whole.cook.zone
    checks = [c for c in whole.checks_of(piece) if c.internal is not None]
    value = live.value if live is not None else checks[-1].internal if checks else None
    number = "" if value is None else whole_degrees(value, system)
    quiet = False
    rise = "" if now_piece.rise == "–" else now_piece.rise
    if live is None and checks:
        rise = f"by hand, {show_moment(checks[-1].at, zone, now)}"
        quiet = (now - checks[-1].at).total_seconds() > STALE
    share = None if value is None or target is None else _share(checks, value, target)
    sign = _sign(whole, now_piece, share)
    return Tile(
        piece.id,
        piece.label,
        now_piece.arm,
        number,
        rise,
        sign,
        _below(whole, now_piece, sign, now),
        now_piece.off.removeprefix("off "),
        share,
        quiet,
    )


def whole_degrees(celsius: float, system: UnitSystem) -> str:
    """Return a temperature in whole degrees without its unit: "203°"."""
    shown = show(celsius, Dimension.TEMPERATURE, system, with_unit=False)
    return f"{round(float(shown.replace('−', '-').replace(',', ''))):d}°".replace("-", "−")


def _share(checks: Sequence[object], value: float, target: float) -> float:
    start = min([COLD, *(getattr(check, "internal", COLD) for check in checks), target - 1.0])
    return min(max((value - start) / (target - start), 0.0), 1.0)


def _sign(whole: WholeCook, now: PieceNow, share: float | None) -> Sign:
    fixed = {Life.OFF: Sign.OFF, Life.OVER: Sign.OVER, Life.RIGHT: Sign.RIGHT}
    if now.life in fixed:
        return fixed[now.life]
    if now.life is Life.WAITING:
        return Sign.WAITING
    feels = [c.feel for c in whole.checks_of(now.piece) if c.feel is not None]
    if feels and feel_of(feels[-1]) is Feel.UNDER:
        return Sign.UNDER
    return Sign.PROBE if share is not None and share >= 1.0 else Sign.NOT_FELT


def _below(whole: WholeCook, now_piece: PieceNow, sign: Sign, now: datetime) -> str:
    """Return what stands below the word: since when, or at what time; what it did not reach."""
    piece, zone = now_piece.piece, whole.cook.zone
    if sign is Sign.OFF and now_piece.below:
        return now_piece.below[-1]
    if sign is Sign.PROBE:
        return "now, not felt yet"
    if sign is Sign.OFF:
        off = whole.last(EventKind.OFF, piece)
        return f"at {show_moment(off.happened_at, zone, now)}" if off is not None else ""
    feels = [c for c in whole.checks_of(piece) if c.feel is not None]
    if sign is Sign.RIGHT:
        first = next(c for c in feels if feel_of(c.feel or 0) is Feel.RIGHT)
        return f"since {show_moment(first.at, zone, now)}"
    if sign in {Sign.UNDER, Sign.OVER}:
        return f"at {show_moment(feels[-1].at, zone, now)}"
    return ""


def targets_of(whole: WholeCook, found: Sequence[ComesOff]) -> Mapping[str, float]:
    """Return where each piece is to start being probed, °C, by what such meat comes off at."""
    known = {one.piece_id: one.target - EARLY for one in found}
    for piece in whole.pieces:
        cut = find_cut(piece.cut)
        if piece.id not in known and cut is not None:
            known[piece.id] = (cut.off.low + cut.off.high) / 2 - EARLY
    return known
