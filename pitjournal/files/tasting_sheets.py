"""What is printed for a tasting: a sheet for each taster, and the plate map for the server.

The sheets give nothing away: no piece, arm or treatment, and no title of the cook, which may
name one. They are made from the session alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from jinja2 import Environment

from pitjournal.domain.scheme import Asks, Criterion, Scale
from pitjournal.domain.tasting import Sample, Session
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.templates import template_environment
from pitjournal.units.figures import trimmed

MOST_STEPS = 9
"""Scales of more steps than this are written in a box instead of circled."""

_LINE = "_" * 34


@dataclass(frozen=True)
class Plate:
    """A portion on the plate map: its code, and what it is."""

    code: str
    piece: str
    way: str


@dataclass(frozen=True)
class PlateMap:
    """What the server needs: every code's piece, and each taster's codes in order."""

    warm_up: str
    plates: tuple[Plate, ...]
    orders: tuple[tuple[str, tuple[str, ...]], ...]

    @property
    def longest(self) -> int:
        """The most portions a taster is served."""
        return max((len(codes) for _, codes in self.orders), default=0)


def plate_map(whole: WholeCook, session: Session) -> PlateMap:
    """Return the plate map of a session."""
    pieces = {piece.id: piece for piece in whole.pieces}

    def named(piece_id: str) -> tuple[str, str]:
        piece = pieces.get(piece_id)
        arm = whole.arm_of(piece) if piece else None
        return piece.label if piece else "gone", arm.name if arm else ""

    def on_plate(sample: Sample) -> str:
        return f"R = {named(sample.piece_id)[0]}" if sample.reference else sample.code

    coded = (sample for sample in session.samples if not sample.reference)
    plates = [Plate(sample.code, *named(sample.piece_id)) for sample in coded]
    orders = [
        (taster, tuple(on_plate(sample) for sample in session.served(taster)))
        for taster in session.present
    ]
    first = pieces.get(session.tasting.warm_up)
    numbered = tuple(sorted(plates, key=lambda plate: plate.code))
    return PlateMap(first.label if first else "", numbered, tuple(orders))


def answers_to(criterion: Criterion, samples: int) -> str:
    """Return what stands on paper to be circled or marked; "" is an empty box."""
    if criterion.scale is Scale.YES_NO:
        return "yes\u00a0\u00a0\u00a0no"
    if criterion.scale is Scale.LINE:
        return f"{trimmed(criterion.low)} {_LINE} {trimmed(criterion.high)}"
    low, high = criterion.bottom(), criterion.top(samples)
    if criterion.scale is Scale.JUST_RIGHT and high - low < MOST_STEPS:
        return "\u00a0\u00a0\u00a0".join(trimmed(low + step) for step in range(int(high - low) + 1))
    return ""


def ask(session: Session, how_chosen: str = "Circle one code.") -> str:
    """Return what a taster is to do, in a few words."""
    rules = session.tasting.asked
    if rules.asks is Asks.TRIANGLE:
        how = "Two of the three are alike. Taste from left to right."
    elif rules.asks is Asks.DUO_TRIO:
        how = "Taste the reference, R, first, then the two."
    elif rules.asks is Asks.PAIR:
        how = "Taste from left to right."
    else:
        return "Taste from the top down, in this order. Water and a plain cracker between."
    return f"{rules.question} {how} {how_chosen} Guess if you must."


@cache
def _environment() -> Environment:
    return template_environment()


def sheets_html(session: Session, day: str, tasters: Sequence[str] = ()) -> str:
    """Return a page for each taster who is there, or for those named."""
    named = tasters or session.present
    sheets = [(name, session.served(name)) for name in named]
    return (
        _environment()
        .get_template("tasting_sheets.html")
        .render(
            sheets=sheets,
            session=session.tasting,
            rules=session.tasting.asked,
            ask=ask(session),
            day=day,
            answers=answers_to,
        )
    )


def plate_map_html(found: PlateMap, session: Session, day: str) -> str:
    """Return the plate map as a page of its own, for the server only."""
    return (
        _environment()
        .get_template("plate_map.html")
        .render(found=found, session=session.tasting, day=day)
    )
