"""The demonstration journal: an invented scenario, made by running commands.

No cook, taster or place in it is real, and it names no brand.
"""

from pitjournal.journal.demonstration.build import make_demonstration
from pitjournal.journal.demonstration.home import ensure_demonstration

__all__ = ["ensure_demonstration", "make_demonstration"]
