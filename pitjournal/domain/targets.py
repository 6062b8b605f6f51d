"""What a piece is cooked to: a range of feels for each kind of table, which anyone may edit."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass

from pitjournal.errors import JournalError

SETTING = "targets"
"""The name of the choice that holds the cook's own."""

LEAST_FEEL, MOST_FEEL = 1, 7


@dataclass(frozen=True)
class Target:
    """A range of feels, 1 to 7, that counts as right at one kind of table.

    `weighted` says that tastings by a contest's scheme speak for it, else the others do.
    """

    name: str
    low: int
    high: int
    words: str = ""
    weighted: bool = False

    def counts_as(self, feel: int) -> int:
        """Return a feel on the usual scale, where 1 is under, 4 right and 7 over."""
        if feel < self.low:
            return 1
        return 4 if feel <= self.high else 7

    @property
    def range(self) -> str:
        """The feels in words."""
        return f"feel {self.low}" if self.low == self.high else f"feel {self.low} to {self.high}"


def targets_text(targets: Sequence[Target]) -> str:
    """Return targets as they are kept with the journal.

    Raises
    ------
    JournalError
        If a range can't be.
    """
    for target in targets:
        if not LEAST_FEEL <= target.low <= target.high <= MOST_FEEL:
            raise JournalError(
                f"{target.name}: {target.low} to {target.high} is no range of feels.",
                f"From {LEAST_FEEL} to {MOST_FEEL}, the lower first.",
            )
    return json.dumps([asdict(target) for target in targets], ensure_ascii=False)


def targets_from(text: str) -> tuple[Target, ...]:
    """Return kept targets."""
    return tuple(Target(**one) for one in json.loads(text))
