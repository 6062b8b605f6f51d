"""Which picture an answer is drawn as, by the kinds of its variables."""

from pitjournal.analysis.trends.question import By, Part, Picture, Question
from pitjournal.domain.catalogue import Catalogue, Kind

MANY_CELLS = 24
"""More groups than so many are easier read as a heat table."""


def numbers_in(question: Question, catalogue: Catalogue) -> list[int]:
    """Return the places of the grouping variables that are numbers."""
    return [place for place, by in enumerate(question.by) if catalogue[by.key].kind is Kind.NUMBER]


def times_in(question: Question) -> list[int]:
    """Return the places of the grouping variables that go on: months and years."""
    return [place for place, by in enumerate(question.by) if by.part in {Part.MONTH, Part.YEAR}]


def pictures_of(question: Question, catalogue: Catalogue, groups: int = 0) -> tuple[Picture, ...]:
    """Return the pictures that fit a question, the likely one first.

    What is held is taken out of groups, and leaves nothing to show of single cooks.

    Parameters
    ----------
    question, catalogue
        What is asked, and the variables of the journal.
    groups
        How many groups the answer has.
    """
    numbers, times = numbers_in(question, catalogue), times_in(question)
    fitting: list[Picture] = []
    if not question.by:
        return (Picture.GROUPS,) if question.held else (Picture.SPREAD, Picture.GROUPS)
    if numbers and not question.by[numbers[0]].edges:
        fitting.append(Picture.SCATTER)
    if times and not numbers:
        fitting.append(Picture.TIME)
    if len(question.by) > 1 and groups > MANY_CELLS:
        fitting.append(Picture.HEAT)
    fitting.append(Picture.GROUPS)
    if numbers:
        fitting.append(Picture.SCATTER)
    if len(question.by) > 1:
        fitting.append(Picture.HEAT)
    if len(question.by) < 3:
        fitting.append(Picture.SPREAD)
    whole = {Picture.SCATTER, Picture.SPREAD} if question.held else set()
    return tuple(dict.fromkeys(one for one in fitting if one not in whole))


def picture_of(question: Question, catalogue: Catalogue, groups: int = 0) -> Picture:
    """Return the picture a question is drawn as: the one asked for, if it fits.

    Parameters
    ----------
    question
        What is asked.
    catalogue
        The variables of the journal.
    groups
        How many groups it makes; None where that is not known.
    """
    fitting = pictures_of(question, catalogue, groups)
    return question.picture if question.picture in fitting else fitting[0]


def without(by: tuple[By, ...], place: int) -> tuple[int, ...]:
    """Return the places of the other grouping variables."""
    return tuple(n for n in range(len(by)) if n != place)
