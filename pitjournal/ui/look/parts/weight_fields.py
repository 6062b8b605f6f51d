"""Weights that spoons and cups can measure, and shares that a weight can say."""

from collections.abc import Callable

from PySide6.QtCore import QTimer

from pitjournal.errors import JournalError
from pitjournal.ui.look.parts.fields import QuantityField, Save
from pitjournal.ui.look.parts.words import unbroken, words
from pitjournal.units import (
    ON_THE_SHELF,
    Density,
    Dimension,
    UnitSystem,
    by_volume,
    parse,
    parse_weight,
    show,
)

HowHeavy = Callable[[], Density | None]
"""Returns the density of what is measured, None where it is not known."""


Whole = Callable[[], tuple[float | None, str]]
"""Returns g of what a share is of, if known, and what it is."""


class ExplainedField(QuantityField):
    """A quantity with a quiet line below that says what was made of the words typed."""

    def __init__(
        self,
        label: str,
        dimension: Dimension,
        system: UnitSystem,
        save: Save,
        density: HowHeavy,
        *,
        bare: bool = False,
        hint: str = "",
    ) -> None:
        self._density = density
        self.where = ON_THE_SHELF
        super().__init__(label, dimension, system, save, bare=bare, hint=hint)
        self.told = words("", "quiet")
        self.told.hide()
        layout = self.layout()
        if layout is not None:
            layout.addWidget(self.told)

    def set_value(self, value: object) -> None:
        """Show a value; words that could not be read are, where what they need is known by now."""
        super().set_value(value)
        if not self.is_wrong or self.line.hasFocus():
            return
        try:
            self.read(self.line.text())
        except JournalError:
            return
        QTimer.singleShot(0, self, self.commit)

    def explained(self, value: float) -> str:
        """Return what is said below, or an empty text."""
        raise NotImplementedError

    def shown(self, value: object) -> str:
        """Return it as typed, and say below what was made of it."""
        typed = isinstance(value, float) and self.is_typed(value)
        told = self.explained(value) if typed and isinstance(value, float) else ""
        self.told.setText(unbroken(told))
        self.told.setVisible(bool(told))
        return super().shown(value)


class WeightField(ExplainedField):
    """A weight, or spoons and cups of what has a known density; the grams stand below."""

    def meant(self, text: str) -> float:
        """Return g of a weight or of a volume."""
        return parse_weight(text, self._system, self._density(), self.where)

    def explained(self, value: float) -> str:
        """Return what a volume weighs, and by what."""
        density = self._density()
        if density is None or by_volume(self.typed, self._system) is None:
            return ""
        return f"{show(value, Dimension.MASS, UnitSystem.METRIC)}: {density.said}"


SHARE_OR_WEIGHT = "2.5 %, 30 g or 2 tbsp"


class ShareField(ExplainedField):
    """A share of a weight, typed as per cent or as a weight or spoons that are the share."""

    def __init__(
        self, label: str, system: UnitSystem, save: Save, density: HowHeavy, whole: Whole
    ) -> None:
        self._whole = whole
        super().__init__(label, Dimension.FRACTION, system, save, density)
        self.line.setToolTip(f"For example {SHARE_OR_WEIGHT}")

    def meant(self, text: str) -> float:
        """Return the share."""
        if not self._is_weight(text):
            try:
                return parse(text, Dimension.FRACTION, self._system)
            except JournalError:
                said = f"“{text.strip()[:40]}” is neither a share nor a weight."
                raise JournalError(said, f"Try {SHARE_OR_WEIGHT}.") from None
        weight = parse_weight(text, self._system, self._density(), self.where)
        whole, of = self._whole()
        if not whole:
            raise JournalError(
                f"How much {of} there is, is not known yet.", "Say it first, or type per cent."
            )
        return weight / whole

    def _is_weight(self, text: str) -> bool:
        if by_volume(text, self._system) is not None:
            return True
        try:
            parse(text, Dimension.FRACTION, self._system)
        except JournalError:
            try:
                parse(text, Dimension.MASS, self._system)
            except JournalError:
                return False
            return True
        return False

    def explained(self, value: float) -> str:
        """Return the share that a weight is, and by what spoons were weighed."""
        if not self._is_weight(self.typed):
            return ""
        whole, of = self._whole()
        share = show(value, Dimension.FRACTION, self._system)
        density = self._density()
        if density is None or by_volume(self.typed, self._system) is None:
            return f"{share} of the {of}"
        weight = show(value * (whole or 0.0), Dimension.MASS, UnitSystem.METRIC)
        return f"{weight}, {share} of the {of}: {density.said}"
