"""How good the forecast of the day was, in a line; worked out by a job."""

from collections.abc import Sequence

from PySide6.QtWidgets import QLabel

from pitjournal.domain.cook import CookStatus
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.journal.queries.graded import Graded
from pitjournal.ui.bridge import is_there
from pitjournal.ui.desk import Desk
from pitjournal.units import Dimension, UnitSystem, show


def graded_words(own: Sequence[Graded], lately: Sequence[Graded]) -> str:
    """Return how far off the forecasts at half time were; "" where none can be asked again."""
    if not own:
        return ""
    alone = len(own) == 1
    said = ", ".join(
        _how(one.minutes) if alone else f"{one.label} {_how(one.minutes)}" for one in own
    )
    more = ""
    if len(lately) > 1:
        inside = sum(one.inside for one in lately)
        more = f" Inside its band of nine in ten in {inside} of your last {len(lately)} pieces."
    return f"The forecast at half time was{'' if alone else ', by piece:'} {said}.{more}"


def _how(minutes: float) -> str:
    whole = round(minutes)
    if not whole:
        return "right to the minute"
    span = show(60.0 * abs(whole), Dimension.DURATION, UnitSystem.US)
    return f"{span} too {'late' if whole > 0 else 'early'}"


class GradedLine(QLabel):
    """The line."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._of: WholeCook | None = None
        self.setProperty("role", "quiet")
        self.setWordWrap(True)
        self.hide()

    def show_cook(self, whole: WholeCook) -> None:
        """Show a cook that is done; what it says comes when it is worked out."""
        if whole == self._of:
            return
        self._of = whole
        self.hide()
        if whole.cook.status is not CookStatus.DONE or whole.pit_trace is None:
            return
        journal = self._desk.journal

        def done(found: tuple[tuple[Graded, ...], tuple[Graded, ...]]) -> None:
            if is_there(self) and whole is self._of:
                self.setText(graded_words(*found))
                self.setVisible(bool(self.text()))

        self._desk.bridge.run(
            "Ask the forecast again at half time",
            lambda _: journal.graded(whole),
            done,
            failed=lambda _why: None,
            asker=self._desk,
            quiet=True,
        )
