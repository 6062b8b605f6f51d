"""The story of a cook without a comparison: its day, what it was like, what to do again."""

from collections.abc import Iterator

from pitjournal.analysis.derived import CookValues
from pitjournal.analysis.findings.means import mean_over
from pitjournal.analysis.trade_words import number_of
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import Dimension, UnitSystem, show
from pitjournal.units.figures import trimmed
from pitjournal.units.first_letter import capital

MOST_SAID = 220
"""Letters of a note that are said; all of it stands where it was written."""

_DAY = (
    ("time_on", "on for {}", Dimension.DURATION),
    ("internal_off", "off at {}", Dimension.TEMPERATURE),
    ("time_rested", "rested {}", Dimension.DURATION),
    ("yield_off", "yield {}", Dimension.FRACTION),
)


def story_of(whole: WholeCook, values: CookValues, system: UnitSystem, noun: str) -> Iterator[str]:
    """Yield what there is to tell of a cook that compared nothing, a sentence each.

    Parameters
    ----------
    whole, values
        The cook, and what was worked out of it.
    system
        The units of the words.
    noun
        What one of its pieces is called.
    """
    yield _day(whole, values, system, noun)
    yield from _like(whole, values)
    if whole.photos:
        many = (
            "One picture tells" if len(whole.photos) == 1 else f"{len(whole.photos)} pictures tell"
        )
        yield f"{many} its day."
    noted = [whole.cook.note, *(note.text for note in whole.notes)]
    first = next((" ".join(text.split()) for text in noted if text.strip()), "")
    if first:
        short = first if len(first) <= MOST_SAID else f"{first[: MOST_SAID - 1]}…"
        yield f"{NOTED}{short}”"


NOTED = "You noted: “"
"""What a sentence begins with that says a note: it is for the cook alone, and in no summary."""


def _day(whole: WholeCook, values: CookValues, system: UnitSystem, noun: str) -> str:
    pieces = whole.pieces
    parts = []
    for key, words, dimension in _DAY:
        mean = mean_over(values, pieces, key)
        if mean.value is not None:
            parts.append(words.format(show(mean.value, dimension, system)) + mean.of)
    named = capital(number_of(len(pieces), noun)) if pieces else "No meat yet"
    on = f" on {whole.cooker.name}" if whole.cooker else ""
    average = " on average" if len(pieces) > 1 and parts else ""
    said = f": {', '.join(parts)}{average}" if parts else ""
    return f"{named}{on}{said}."


def _like(whole: WholeCook, values: CookValues) -> Iterator[str]:
    """Yield what it was like: the scores given, and the feel it came off with."""
    keys = dict.fromkeys(key for said in values.pieces.values() for key in said)
    scores = [key for key in keys if key.startswith("score.")]
    said = []
    for key in scores:
        mean = mean_over(values, whole.pieces, key)
        if mean.value is not None:
            said.append(f"{key.removeprefix('score.')} {trimmed(mean.value, 2)}{mean.of}")
    if said:
        yield f"At the table: {', '.join(said)}."
    feel = mean_over(values, whole.pieces, "feel_off")
    if feel.value is not None:
        yield f"It came off at feel {trimmed(feel.value, 2)} of 7{feel.of}."
