"""What is known of a fact: reached, not reached or unknown. There is no "safe"."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import StrEnum


class State(StrEnum):
    """What is known of a fact. There is no "safe"."""

    REACHED = "reached"
    NOT_REACHED = "not reached"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class SafetyFact:
    """A fact, its state, and where the rule stands."""

    fact: str
    state: State
    source: str


@dataclass(frozen=True)
class Seen:
    """What is known of one piece, and why no more is, in a cook's words.

    `level` is what was measured below what is asked, °C, and `at` when, s since 1970; None where
    nothing was, or the time alone was too short.
    """

    state: State
    why: str = ""
    level: float | None = field(default=None, compare=False)
    at: float | None = field(default=None, compare=False)


def together(states: Sequence[State]) -> State:
    """Return the state of a rule for all pieces: reached only when every piece reached it."""
    if State.NOT_REACHED in states:
        return State.NOT_REACHED
    return State.UNKNOWN if State.UNKNOWN in states or not states else State.REACHED


def state_of(*, reached: bool) -> State:
    """Return reached or not reached."""
    return State.REACHED if reached else State.NOT_REACHED


def probed_of(probed: int, count: int) -> str:
    """Return how many pieces have a probe: "one piece with a probe", "1 of 2 pieces with a probe"."""
    said = pieces(probed) if probed == count else f"{probed} of {count} pieces"
    return f"{said} with a probe"


def of_all(states: Sequence[State], count: int) -> State:
    """Return the state for so many pieces, of which some have none: those are unknown."""
    return together([*states, *[State.UNKNOWN] * (count - len(states))])


def pieces(count: int) -> str:
    """Return so many pieces in words."""
    return "one piece" if count == 1 else f"{count} pieces"
