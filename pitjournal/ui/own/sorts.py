"""What a variable of the cook's own can be, in words."""

from pitjournal.domain.shelf import OwnVariable
from pitjournal.units import Dimension

LEVELS = (("piece", "each piece"), ("arm", "each arm"), ("cook", "the cook"))
KINDS = (("number", "a number"), ("choice", "a choice"), ("yes/no", "yes or no"), ("text", "words"))
QUANTITIES = (
    (Dimension.NUMBER, "plain number"),
    (Dimension.COUNT, "count"),
    (Dimension.SCORE, "points"),
    (Dimension.FRACTION, "share (%)"),
    (Dimension.MASS, "weight"),
    (Dimension.LENGTH, "length"),
    (Dimension.VOLUME, "volume"),
    (Dimension.TEMPERATURE, "temperature"),
    (Dimension.TEMPERATURE_DIFFERENCE, "degrees more or less"),
    (Dimension.DURATION, "time"),
    (Dimension.MONEY, "money"),
)
"""What a number may be a quantity of; its unit is then read and shown as the cook's."""


def sort_words(own: OwnVariable) -> str:
    """Return what a variable is of, and what sort of value it has: "each piece, length"."""
    level = dict(LEVELS).get(own.level, own.level)
    if own.kind == "number":
        quantities = {str(dimension): text for dimension, text in QUANTITIES}
        return f"{level}, {quantities.get(own.dimension, own.dimension)}"
    kind = dict(KINDS).get(own.kind, own.kind)
    return f"{level}, {kind}"
