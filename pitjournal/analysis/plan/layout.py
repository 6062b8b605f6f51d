"""From a question to the pieces of a comparison: arms in every block, drawn by lot."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from itertools import product
from string import ascii_uppercase

from pitjournal.domain.cook import Arm, Cook, CookKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.science.comparison.designs import draw_blocks, draw_halves
from pitjournal.units.first_letter import capital

NAMES = {
    TreatmentKind.NONE: "Left alone",
    TreatmentKind.INJECTED: "Injected",
    TreatmentKind.BRINED: "Brined",
    TreatmentKind.DRY_BRINED: "Dry-brined",
    TreatmentKind.NEEDLED: "Needled",
    TreatmentKind.BLADED: "Bladed",
    TreatmentKind.MARINATED: "Marinated",
    TreatmentKind.OTHER: "Other way",
}
"""What an arm is called until the cook calls it something else."""

BARE = "none"
"""A way of wrapping: not at all."""


class Blocks(StrEnum):
    """What holds a piece of each way."""

    PACKS = "packs"
    ANIMALS = "animals"
    HALVES = "slabs cut in half"
    NONE = "nothing in common"


BLOCK_WORDS = {Blocks.PACKS: "pack", Blocks.ANIMALS: "animal", Blocks.HALVES: "slab"}
"""What one of them is called."""


def blocks_of(pieces: Sequence[Piece]) -> Blocks:
    """Return what holds a piece of each way in a cook there is; packs where nothing says."""
    if pieces and all(piece.pair and piece.end for piece in pieces):
        return Blocks.HALVES
    if pieces and all(piece.animal and not piece.pack for piece in pieces):
        return Blocks.ANIMALS
    return Blocks.PACKS


@dataclass(frozen=True)
class Recipe:
    """A recipe of the cook's own for a treatment; shares of the liquid, or of the meat."""

    name: str = ""
    salt: float | None = None
    phosphate: float | None = None


@dataclass(frozen=True)
class PlannedArm:
    """A way of doing it: its treatments (none of them leaves that unrecorded), and its wrap."""

    name: str
    kinds: tuple[TreatmentKind, ...] = ()
    wrap: str = ""
    recipe: Recipe = Recipe()


@dataclass(frozen=True)
class Ways:
    """What is to change: the first of each is the control's.

    `every` takes every combination of two things; of treatments alone, two of them each with
    and without the other.
    """

    treatments: tuple[TreatmentKind, ...] = ()
    wraps: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    every: bool = False

    @property
    def things(self) -> int:
        """How many things change."""
        return sum(len(ways) > 1 for ways in (self.treatments, self.wraps, self.names))


def arms_of(ways: Ways) -> tuple[PlannedArm, ...]:
    """Return the arms of what is to change; two things at once are paired, unless every way."""
    if ways.every and _two_treatments(ways):
        alone, first, second = ways.treatments
        both = PlannedArm("Both", (first, second))
        return (*(PlannedArm(NAMES[kind], (kind,)) for kind in (alone, first, second)), both)
    one = [PlannedArm(NAMES[kind], (kind,)) for kind in ways.treatments]
    two = [PlannedArm(_wrap_name(wrap), (), wrap) for wrap in ways.wraps]
    three = [PlannedArm(name) for name in ways.names]
    factors = [levels for levels in (one, two, three) if len(levels) > 1]
    if not factors:
        return ()
    if ways.every:
        return tuple(_joined(levels) for levels in product(*factors))
    longest = max(len(levels) for levels in factors)
    return tuple(
        _joined([levels[min(n, len(levels) - 1)] for levels in factors]) for n in range(longest)
    )


def _two_treatments(ways: Ways) -> bool:
    only = len(ways.wraps) < 2 and len(ways.names) < 2
    return only and len(ways.treatments) == 3 and ways.treatments[0] is TreatmentKind.NONE


def _wrap_name(wrap: str) -> str:
    return "Not wrapped" if wrap == BARE else capital(wrap)


def _joined(levels: Sequence[PlannedArm]) -> PlannedArm:
    kinds = tuple(kind for level in levels for kind in level.kinds)
    wrap = next((level.wrap for level in levels if level.wrap), "")
    first, *rest = (level.name for level in levels)
    return PlannedArm(", ".join([first, *(name.lower() for name in rest)]), kinds, wrap)


TWO_HALVES = "A slab has two halves: compare two arms, or take packs."


def warning_of(ways: Ways, arms: int, blocks: Blocks) -> str:
    """Return what to look at before a comparison is started, or an empty text.

    Parameters
    ----------
    ways
        How the cook is laid out.
    arms
        The arms, the control first.
    blocks
        What the pieces are compared within.
    """
    if arms < 2:
        return "Choose the control and at least one other arm."
    if ways.things > 1 and not ways.every:
        return "Two things change at once: which of them did it? Change one, or take every combination."
    if ways.every and ways.things < 2 and not _two_treatments(ways):
        return "Every combination needs two things: two treatments, or a treatment and a wrap."
    if blocks is Blocks.HALVES and arms != 2:
        return TWO_HALVES
    if arms > 4:
        return "Many arms in one cook leave few pieces for each."
    return ""


def two_things(whole: WholeCook) -> bool:
    """Whether both treatment and wrap differ between the arms, and not in every combination."""
    treated = {
        arm.id: tuple(sorted(t.kind for t in whole.treatments if t.arm_id == arm.id))
        for arm in whole.arms
    }
    wraps = {arm.id: arm.wrap for arm in whole.arms}
    ways, wrapped = set(treated.values()), set(wraps.values())
    both = {(treated[arm.id], wraps[arm.id]) for arm in whole.arms}
    return len(ways) > 1 and len(wrapped) > 1 and both != set(product(ways, wrapped))


@dataclass(frozen=True, kw_only=True)
class Draft:
    """What a cook wants to find out, and with how many pieces.

    The first arm is the control; with one arm nothing is compared. A block is a pack, an
    animal or a slab that holds a piece of each arm. `seed` draws the slots, and the ends.
    """

    title: str
    cut: str
    arms: tuple[PlannedArm, ...]
    blocks: int
    seed: int
    starts_at: datetime
    zone: str
    within: Blocks = Blocks.PACKS
    question: str = ""
    outcome: str | None = None
    stop_rule: str = ""
    held: str = ""
    cooker_id: str | None = None
    set_point: float | None = None
    kind: CookKind = CookKind.PRACTICE


def slots(arms: int, blocks: int, seed: int) -> list[tuple[int, int]]:
    """Return for each slot of the cooker the arm and the block of its piece, drawn by lot.

    Parameters
    ----------
    arms
        The arms, the control first.
    blocks
        What the pieces are compared within.
    seed
        Of the lot.
    """
    drawn = draw_blocks(arms, blocks, seed)
    return [(arm, block) for block, row in enumerate(drawn) for arm in row]


def swapped(order: Sequence[str]) -> list[tuple[str, str]]:
    """Return which slots change places half way: the first with the last, and so on.

    Each piece's mean place is then the middle of the cooker.
    """
    half = len(order) // 2
    return list(zip(order[:half], order[::-1][:half], strict=True))


def cook_of(draft: Draft) -> tuple[Cook, tuple[Record, ...]]:
    """Return the cook of a draft and its parts: arms, treatments, labelled pieces in slots."""
    cook = Cook(
        number=0,
        title=draft.title,
        question=draft.question,
        outcome=draft.outcome,
        stop_rule=draft.stop_rule,
        held=draft.held,
        starts_at=draft.starts_at,
        zone=draft.zone,
        cooker_id=draft.cooker_id,
        set_point=draft.set_point,
        kind=draft.kind,
        seed=draft.seed,
    )
    compared = len(draft.arms) > 1
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=arm.name, control=place == 0, wrap=arm.wrap)
        for place, arm in enumerate(draft.arms)
        if compared
    )
    pieces = _pieces(cook, draft, arms)
    treatments = [
        _treatment(cook, arm, kind, arm_id=made.id)
        for made, arm in zip(arms, draft.arms, strict=False)
        for kind in arm.kinds
    ]
    if not compared:
        treatments = [
            _treatment(cook, arm, kind, piece_id=piece.id)
            for arm in draft.arms
            for kind in arm.kinds
            for piece in pieces
        ]
    return cook, (*arms, *pieces, *treatments)


def _treatment(
    cook: Cook,
    arm: PlannedArm,
    kind: TreatmentKind,
    *,
    arm_id: str | None = None,
    piece_id: str | None = None,
) -> Treatment:
    none = kind is TreatmentKind.NONE
    recipe = Recipe() if none else arm.recipe
    return Treatment(
        cook_id=cook.id,
        arm_id=arm_id,
        piece_id=piece_id,
        kind=kind,
        recipe=recipe.name,
        salt=recipe.salt,
        phosphate=recipe.phosphate,
    )


def _pieces(cook: Cook, draft: Draft, arms: Sequence[Arm]) -> list[Piece]:
    drawn = slots(max(len(draft.arms), 1), draft.blocks, draft.seed)
    made = []
    for slot, (arm, block) in enumerate(drawn, start=1):
        piece = Piece(
            cook_id=cook.id,
            position=arm * draft.blocks + block,
            label=f"{ascii_uppercase[arm % 26]}{block + 1}",
            cut=draft.cut,
            arm_id=arms[arm].id if arms else None,
            pack=block_name(draft, block) if draft.within is Blocks.PACKS else "",
            animal=block_name(draft, block) if draft.within is Blocks.ANIMALS else "",
            pair=block_name(draft, block) if draft.within is Blocks.HALVES else "",
            end=end_of(draft, arm, block),
            slot=str(slot),
        )
        made.append(piece)
    return sorted(made, key=lambda piece: piece.position)


def end_of(draft: Draft, arm: int, block: int) -> str:
    """Return which end of a slab cut in two an arm's piece is, by lot: "front" or "back".

    Parameters
    ----------
    draft
        What is planned.
    arm
        The arm meant.
    block
        The number of its block.
    """
    if draft.within is not Blocks.HALVES:
        return ""
    front = draw_halves(draft.blocks, draft.seed)[block]
    return "front" if (arm == 0) == (front == 0) else "back"


def block_name(draft: Draft, block: int) -> str:
    """Return what a block is called: "pack 2"; nothing where nothing is compared."""
    if len(draft.arms) < 2 or draft.within not in BLOCK_WORDS:
        return ""
    return f"{BLOCK_WORDS[draft.within]} {block + 1}"


def drawn_again(whole: WholeCook, seed: int, *, ends: bool = True) -> dict[str, dict[str, str]]:
    """Return new slots, and new ends of halves, by piece: by lot within the blocks there are.

    Blocks keep their order; pieces that share none are drawn among themselves.

    Parameters
    ----------
    whole
        The cook, with all its records.
    seed
        Of the lot.
    ends
        The ends of halves by piece; None leaves them.
    """
    blocks = list(dict.fromkeys(piece.block for piece in whole.pieces))
    found: dict[str, dict[str, str]] = {}
    slot = 0
    for number, block in enumerate(blocks):
        pieces = [piece for piece in whole.pieces if piece.block == block]
        (order,) = draw_blocks(len(pieces), 1, seed + number)
        for place in order:
            slot += 1
            found[pieces[place].id] = {"slot": str(slot)}
    if not ends:
        return found
    halves = [[p for p in whole.pieces if p.block == block and p.end] for block in blocks]
    pairs = [sorted(pair, key=lambda p: p.position) for pair in halves if len(pair) == 2]
    for pair, front in zip(pairs, draw_halves(len(pairs), seed), strict=True):
        ways = ("front", "back") if front == 0 else ("back", "front")
        for piece, end in zip(pair, ways, strict=True):
            found[piece.id]["end"] = end
    return found
