"""From a question to the pieces of a comparison: arms in every block, drawn by lot."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from string import ascii_uppercase

from pitjournal.domain.cook import Arm, Cook, CookKind
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.treatment import Treatment, TreatmentKind
from pitjournal.science.designs import draw_blocks


@dataclass(frozen=True)
class PlannedArm:
    """A way of doing it; `kind` None leaves the treatment unrecorded."""

    name: str
    kind: TreatmentKind | None = None


@dataclass(frozen=True, kw_only=True)
class Draft:
    """What a cook wants to find out, and with how many pieces.

    The first arm is the control; with one arm nothing is compared. A block is a pack, an
    animal or a slab that holds a piece of each arm. `seed` draws the slots.
    """

    title: str
    cut: str
    arms: tuple[PlannedArm, ...]
    blocks: int
    seed: int
    starts_at: datetime
    zone: str
    question: str = ""
    outcome: str | None = None
    stop_rule: str = ""
    cooker_id: str | None = None
    set_point: float | None = None
    kind: CookKind = CookKind.PRACTICE


def slots(arms: int, blocks: int, seed: int) -> list[tuple[int, int]]:
    """Return for each slot of the cooker the arm and the block of its piece, drawn by lot."""
    drawn = draw_blocks(arms, blocks, seed)
    return [(arm, block) for block, row in enumerate(drawn) for arm in row]


def cook_of(draft: Draft) -> tuple[Cook, tuple[Record, ...]]:
    """Return the cook of a draft and its parts: arms, treatments, labelled pieces in slots."""
    cook = Cook(
        number=0,
        title=draft.title,
        question=draft.question,
        outcome=draft.outcome,
        stop_rule=draft.stop_rule,
        starts_at=draft.starts_at,
        zone=draft.zone,
        cooker_id=draft.cooker_id,
        set_point=draft.set_point,
        kind=draft.kind,
    )
    compared = len(draft.arms) > 1
    arms = tuple(
        Arm(cook_id=cook.id, position=place, name=arm.name, control=place == 0)
        for place, arm in enumerate(draft.arms)
        if compared
    )
    treatments = [
        Treatment(cook_id=cook.id, arm_id=made.id, kind=arm.kind)
        for made, arm in zip(arms, draft.arms, strict=False)
        if arm.kind is not None
    ]
    pieces = _pieces(cook, draft, arms)
    if not compared and draft.arms and draft.arms[0].kind is not None:
        kind = draft.arms[0].kind
        treatments = [Treatment(cook_id=cook.id, piece_id=p.id, kind=kind) for p in pieces]
    return cook, (*arms, *pieces, *treatments)


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
            pack=f"pack {block + 1}" if arms else "",
            slot=str(slot),
        )
        made.append(piece)
    return sorted(made, key=lambda piece: piece.position)
