"""The demonstration journal: an invented scenario, made by running commands.

No cook, taster or place in it is real, and it names no brand.
"""

from pitjournal.journal.demonstration.build import make_demonstration

__all__ = ["make_demonstration"]
