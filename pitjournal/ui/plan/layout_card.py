"""The card of a new cook that shows where each piece goes, and what the cook can show."""

from collections.abc import Callable

from pitjournal.analysis.plan.layout import BLOCK_WORDS, Blocks, Draft, block_name, end_of, slots
from pitjournal.analysis.plan.planner import PlannerAsked, asked_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.ui.desk import Desk
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.cards import Card
from pitjournal.ui.look.parts.words import words
from pitjournal.ui.plan.drawing import CookerDrawing, Placed, in_rows, shelves_of
from pitjournal.ui.plan.power import PowerView

_SAID = {
    Blocks.PACKS: "One pack is one block: it holds a piece of each arm.",
    Blocks.ANIMALS: "One animal is one block: it gives a piece to each arm.",
    Blocks.HALVES: "Each slab is cut in two; which end goes to which arm is drawn too.",
    Blocks.NONE: "Nothing is held between the pieces: it takes more of them.",
}


class LayoutCard(Card):
    """The cooker from above with the pieces of a draft, or of an older cook drawn anew."""

    def __init__(self, desk: Desk, redraw: Callable[[], None]) -> None:
        super().__init__("Where each goes, drawn by lot", side=button("Draw again", redraw, "link"))
        self.drawing = CookerDrawing()
        self.packs = words("", "quiet")
        self.can_show = words("What this cook can show", "heading")
        self.power = PowerView(desk)
        self.warning = words("", "error")
        for part in (self.drawing, self.packs, self.can_show, self.power, self.warning):
            self.body.addWidget(part)
        self.body.addStretch(1)

    def show_draft(self, draft: Draft, *, comparing: bool) -> None:
        """Show where the pieces of a draft go, and what they can show."""
        arms = max(len(draft.arms), 1)
        placed = [
            Placed(
                f"{chr(65 + arm % 26)}{block + 1}",
                arm if comparing else None,
                ", ".join(
                    part for part in (block_name(draft, block), end_of(draft, arm, block)) if part
                ),
            )
            for arm, block in slots(arms, draft.blocks, draft.seed)
        ]
        self.drawing.show_shelves(in_rows(placed, arms if comparing and arms > 1 else 3))
        self.packs.setText(f"{_SAID[draft.within]} Lot {draft.seed}." if comparing else "")
        asked = PlannerAsked(
            draft.outcome,
            draft.blocks,
            len(draft.arms),
            draft.within is not Blocks.NONE,
            noun=BLOCK_WORDS.get(draft.within, "pack"),
        )
        self._show_power(asked if comparing else None)

    def show_older(self, whole: WholeCook | None, seed: int) -> None:
        """Show an older cook whose places were drawn anew."""
        compares = whole is not None and len(whole.arms) > 1
        self._show_power(asked_of(whole) if whole is not None and compares else None)
        self.drawing.show_shelves(() if whole is None else shelves_of(whole))
        self.packs.setText(f"Drawn anew within its blocks. Lot {seed}." if compares else "")

    def _show_power(self, asked: PlannerAsked | None) -> None:
        self.can_show.setVisible(asked is not None)
        self.power.setVisible(asked is not None)
        if asked is not None:
            self.power.ask(asked)
