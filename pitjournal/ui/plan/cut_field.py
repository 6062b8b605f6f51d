"""A field for a cut: it says what is understood while it is typed, or asks what meat it is."""

from pitjournal.analysis.plan.meat_note import meat_note
from pitjournal.domain.cuts import cut_names
from pitjournal.ui.look.parts.fields import Save, TextField
from pitjournal.ui.look.parts.words import words
from pitjournal.units import UnitSystem


class CutField(TextField):
    """The words of a cut, kept as typed, with what they mean below."""

    def __init__(self, save: Save, system: UnitSystem) -> None:
        super().__init__("Cut", save, used=cut_names(), hint="back ribs, brisket…")
        self._system = system
        self.note = words("", "quiet")
        layout = self.layout()
        assert layout is not None
        layout.addWidget(self.note)
        self.line.textChanged.connect(self._understand)
        self._understand("")

    def _understand(self, text: str) -> None:
        self.note.setText(meat_note(text, self._system))
        self.note.setVisible(bool(self.note.text()))
