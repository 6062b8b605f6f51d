"""One day at the pit: the simulated meat, and a cook who sprays, wraps, probes and takes off."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from pitjournal.domain.event import EventKind
from pitjournal.journal.demonstration.cuts import HOUR, MINUTE
from pitjournal.journal.demonstration.plans import COVER, ArmPlan, CookPlan
from pitjournal.journal.demonstration.simulation import LAYERS, STEP, Array, Meat, Pit
from pitjournal.units import Dimension, UnitSystem, from_display

_FRIDGE = 4.0
_BOX = 38.0
_LONGEST = 20 * HOUR
_LOGGED_AFTER = 25 * MINUTE
_MOIST_AIR = 0.045
_SLOTS = (1.5, 0.0, -1.5)
"""How far the air at the top, middle and bottom slot is from the pit's, K."""


@dataclass(frozen=True)
class Happening:
    """Something that happened so many s after lighting, to pieces by their place."""

    at: float
    kind: str
    pieces: tuple[int, ...] = ()
    details: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Probing:
    """A doneness check."""

    at: float
    piece: int
    internal: float
    feel: int


@dataclass(frozen=True, eq=False)
class Lot:
    """What chance gave each piece, shape (n,): thickness m, °C at which it is right, leeway s."""

    thickness: Array
    right_at: Array
    leeway: Array
    arm: NDArray[np.int64]
    slot: NDArray[np.int64]


@dataclass(eq=False)
class Day:
    """What happened, in s after lighting and °C.

    Attributes
    ----------
    on
        When the meat went on.
    wrapped, off
        For each piece; NaN if it never was.
    pit
        Readings a step.
    meat
        Temperatures in the middle a step, shape (steps, n); NaN while not on.
    lost
        Share of its weight each piece had lost a step, shape (steps, n).
    """

    on: float
    wrapped: Array
    off: Array
    happenings: list[Happening] = field(default_factory=list)
    probings: list[Probing] = field(default_factory=list)
    pit: list[float] = field(default_factory=list)
    meat: list[Array] = field(default_factory=list)
    lost: list[Array] = field(default_factory=list)

    @property
    def over(self) -> float:
        """When the last piece came off."""
        return float(np.nanmax(self.off))

    def loss(self, piece: int, at: float) -> float:
        """Return the share of its weight a piece had lost at a time."""
        step = min(int(at / STEP), len(self.lost) - 1)
        return float(self.lost[step][piece])


def draw_lot(plan: CookPlan, lot: np.random.Generator) -> Lot:
    """Draw what chance gives the pieces, block by block, each arm once a block."""
    cut = plan.cut
    arms = max(len(plan.arms), 1)
    count = plan.blocks * arms
    block = np.repeat(lot.normal(0.0, 0.7, plan.blocks), arms)
    arm = np.concatenate([lot.permutation(arms) for _ in range(plan.blocks)])
    more = np.array([way.leeway for way in plan.arms] or [0.0])
    return Lot(
        thickness=cut.thickness + cut.thickness_spread * (block + lot.normal(0.0, 0.6, count)),
        right_at=cut.right_at + cut.right_spread * lot.normal(0.0, 1.0, count),
        leeway=cut.leeway + more[arm] + cut.leeway_spread * lot.normal(0.0, 1.0, count),
        arm=arm,
        slot=np.arange(count) % len(_SLOTS),
    )


def run_day(plan: CookPlan, pieces: Lot, outside: float, lot: np.random.Generator) -> Day:
    """Cook until the last piece is off and has rested a little."""
    return _Run(plan, pieces, outside, lot).day


class _Run:
    def __init__(
        self, plan: CookPlan, pieces: Lot, outside: float, lot: np.random.Generator
    ) -> None:
        count = pieces.thickness.size
        set_point = from_display(plan.set_point, Dimension.TEMPERATURE, UnitSystem.US)
        self.plan, self.pieces, self.cut, self._lot = plan, pieces, plan.cut, lot
        self._pit = Pit(plan.cooker.character, set_point, outside, lot)
        self._meat = self._cold_meat()
        self._lid = 0.0
        self._now = 0.0
        self._right_since = np.full(count, np.nan)
        self._unwrapped = np.zeros(count, dtype=bool)
        self._felt = np.zeros(count, dtype=np.int64)
        self._last_probing = 0.0
        first = [int(np.flatnonzero(pieces.arm == arm)[-1]) for arm in range(len(plan.arms))]
        self._left_on = frozenset(first if plan.series else ())
        nothing = np.full(count, np.nan)
        on = 5 * MINUTE * round((plan.cooker.preheat + lot.uniform(0, 10 * MINUTE)) / 300.0)
        self.day = Day(on, nothing.copy(), nothing.copy())
        self._spray = on + 60 * MINUTE if plan.spray_every else np.inf
        self._flip = on + 35 * MINUTE
        self._go()

    def _cold_meat(self) -> Meat:
        thickness = self.pieces.thickness
        half = self.cut.half * thickness / self.cut.thickness
        every = np.ones(thickness.size)
        cold = np.full((thickness.size, LAYERS), _FRIDGE)
        return Meat(half, self.cut.water * every, self.cut.wet * every, cold)

    def _go(self) -> None:
        self._log(EventKind.LIT)
        self._log(EventKind.ON, *range(self._right_since.size), at=self.day.on)
        while self._now < _LONGEST:
            self._heat()
            self._now += STEP
            if self._now >= self.day.on:
                self._tend()
            off = self.day.off
            if not np.isnan(off).any() and self._now > off.max() + _LOGGED_AFTER:
                return

    def _heat(self) -> None:
        self._pit.step(self._lid)
        self._lid = 0.0
        on, day = self._now >= self.day.on, self.day
        resting = ~np.isnan(day.off)
        if on:
            slots = np.asarray(_SLOTS)[self.pieces.slot]
            air = np.where(resting, _BOX, self._pit.air + slots)
            transfer = np.where(resting, 6.0, self.cut.transfer)
            self._meat.step(air, transfer, self._cover(resting), _MOIST_AIR)
        day.pit.append(self._pit.reading)
        middle = self._meat.middle
        day.meat.append(middle if on else np.full(middle.size, np.nan))
        day.lost.append(self._share_lost(middle, resting))

    def _cover(self, resting: NDArray[np.bool_]) -> Array:
        wraps = [self._wrap_of(piece) for piece in range(resting.size)]
        cover = np.where(np.isnan(self.day.wrapped), 1.0, [COVER[wrap] for wrap in wraps])
        return np.where(resting | self._unwrapped, 0.1, cover)

    def _share_lost(self, middle: Array, resting: NDArray[np.bool_]) -> Array:
        """Water given through the face, and fat that ran off on the way up."""
        water = self._meat.lost / (1050.0 * self._meat.half)
        melted = self.cut.fat * np.clip((middle - 45.0) / 48.0, 0.0, 1.0)
        before = self.day.lost[-1] if self.day.lost else np.zeros(middle.size)
        return np.where(resting, before, np.maximum(before, water + melted))

    def _wrap_of(self, piece: int) -> str:
        own = self.arm_of(piece)
        return (own.wrap if own else "") or self.plan.wrap

    def arm_of(self, piece: int) -> ArmPlan | None:
        """Return the way a piece is done."""
        return self.plan.arms[int(self.pieces.arm[piece])] if self.plan.arms else None

    # what the cook does

    def _tend(self) -> None:
        middle, still = self._meat.middle, np.isnan(self.day.off)
        fresh = still & np.isnan(self._right_since) & (middle >= self.pieces.right_at)
        self._right_since[fresh] = self._now
        self._wrap(middle, still)
        self._probe(middle, still)
        naked = np.isnan(self.day.wrapped).all() and still.all()
        if self.plan.wrap == "none":
            self._turn_over()
        elif naked and self._now >= self._spray:
            self._open(35.0)
            self._log(EventKind.SPRITZ, spray="apple juice and water")
            self._spray += self.plan.spray_every

    def _turn_over(self) -> None:
        """Flip, once, what is not wrapped."""
        if self._now >= self._flip:
            self._open(45.0)
            self._log(EventKind.FLIP)
            self._flip = np.inf

    def _wrap(self, middle: Array, still: NDArray[np.bool_]) -> None:
        cut = self.cut
        due = still & np.isnan(self.day.wrapped) & (self.plan.wrap != "none")
        if cut.wrap_after is not None:
            due &= self._now >= self.day.on + cut.wrap_after
        elif cut.wrap_at is not None:
            due &= middle >= cut.wrap_at
        if not due.any():
            return
        self._open(40.0 + 12.0 * due.sum())
        self.day.wrapped[due] = self._now
        for wrap in ("foil", "paper"):
            wrapped = [int(p) for p in np.flatnonzero(due) if self._wrap_of(int(p)) == wrap]
            if wrapped:
                self._log(EventKind.WRAP, *wrapped, wrap=wrap)

    def _probe(self, middle: Array, still: NDArray[np.bool_]) -> None:
        near = still & (middle >= self.cut.right_at - 5.5)
        if not near.any() or self._now < self._last_probing + self.cut.probe_every:
            return
        self._last_probing = self._now
        self._log(EventKind.LID)
        self._open(20.0 + 8.0 * near.sum())
        felt = {
            int(piece): self._feel(int(piece), float(middle[piece])) for piece in near.nonzero()[0]
        }
        off = [p for p, feel in felt.items() if feel >= (6 if p in self._left_on else 4)]
        if off:
            self.day.off[off] = self._now + MINUTE
            self._log(EventKind.OFF, *off, at=self._now + MINUTE)
        glazed = [p for p, feel in felt.items() if feel >= 3 and not self._unwrapped[p]]
        glazed = [p for p in glazed if p not in off and self.cut.glazed]
        if glazed:
            self._unwrapped[glazed] = True
            self._log(EventKind.UNWRAP, *glazed)
            self._log(EventKind.GLAZE, *glazed, at=self._now + 2 * MINUTE, glaze="house glaze")

    def _feel(self, piece: int, middle: float) -> int:
        feel = max(self._feel_of(piece), int(self._felt[piece]))  # soft meat stays soft
        self._felt[piece] = feel
        internal = round(2 * (middle + float(self._lot.normal(0.0, 0.5)))) / 2
        self.day.probings.append(Probing(self._now, piece, internal, feel))
        return feel

    def _feel_of(self, piece: int) -> int:
        since = self._right_since[piece]
        if np.isnan(since):
            gap = float(self.pieces.right_at[piece] - self._meat.middle[piece])
            return 1 if gap > 2.5 else 2
        share = (self._now - since) / self.pieces.leeway[piece]
        return 3 + int(3 * share) if share < 1 else 6 if share < 1.4 else 7

    def _open(self, seconds: float) -> None:
        self._lid += seconds

    def _log(self, kind: EventKind, *pieces: int, at: float | None = None, **details: str) -> None:
        moment = self._now if at is None else at
        self.day.happenings.append(Happening(moment, kind, pieces, details))
