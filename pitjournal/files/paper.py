"""The papers that are printed on."""

from pitjournal.units import UnitSystem

A4, LETTER = "a4", "letter"
PAPERS = (A4, LETTER)


def usual_paper(system: UnitSystem) -> str:
    """Return the paper of those who think in these units."""
    return LETTER if system is UnitSystem.US else A4
