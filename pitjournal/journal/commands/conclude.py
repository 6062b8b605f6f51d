"""Keep what a cook concludes, beside what was known when it was written."""

from dataclasses import dataclass, replace
from datetime import datetime

from pitjournal.domain.conclusion import Conclusion
from pitjournal.store.transaction import Transaction


@dataclass(frozen=True)
class Conclude:
    """Keep a cook's conclusion in the place of an earlier one; without words it is taken away.

    `over` are the ids of the cooks that the answer rests on, `said` is what it is for each arm.
    """

    cook_id: str
    text: str
    at: datetime
    over: tuple[str, ...] = ()
    said: tuple[str, ...] = ()

    @property
    def merge_key(self) -> str:
        """Typing it is one step."""
        return f"{self.cook_id}:conclusion"

    @property
    def label(self) -> str:
        """What the step is called."""
        return "Write the conclusion" if self.text.strip() else "Take the conclusion away"

    def run(self, transaction: Transaction) -> None:
        """Keep it; the same words again stay as they were written."""
        before = transaction.find(Conclusion, cook_id=self.cook_id)
        words = self.text.strip()
        if words and any(old.text == words for old in before):
            return
        for old in before[1:] if words else before:
            transaction.remove(Conclusion, old.id)
        if not words:
            return
        made = Conclusion(
            cook_id=self.cook_id, text=words, at=self.at, over=self.over, said=self.said
        )
        if before:
            transaction.put(before[0], replace(made, id=before[0].id))
        else:
            transaction.add(made)
