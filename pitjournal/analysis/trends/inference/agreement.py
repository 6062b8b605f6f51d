"""Whether two scores of the same thing agree: the panel's and the judges'."""

from pitjournal.analysis.trends.answer import FEW
from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.analysis.trends.columns.row_selection import select_rows
from pitjournal.analysis.trends.question import Question
from pitjournal.domain.catalogue import Catalogue, Variable
from pitjournal.science.sensory.agreement import AgreementLimits, limits_of_agreement
from pitjournal.units import UnitSystem, difference_of, show, show_interval
from pitjournal.units.first_letter import capital

SOURCE = "limits of agreement, Bland and Altman 1999"


def scored_twice(question: Question, catalogue: Catalogue) -> bool:
    """Whether a question holds two scores of one thing, on one scale, against each other."""
    if len(question.by) != 1 or question.against_control or question.held:
        return False
    one, other = catalogue[question.measure], catalogue[question.by[0].key]
    alike = one.criterion == other.criterion and one.ends == other.ends
    return bool(one.criterion) and alike and one.key != other.key


def agreement(
    frame: Frame, question: Question, catalogue: Catalogue, system: UnitSystem
) -> AgreementLimits | None:
    """Return how far the two scores of each piece lie apart: what is shown less the other.

    None where that is not what is asked, or fewer than three cooks have both.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    question
        What is asked.
    catalogue
        The variables of the journal.
    system
        The units of the words.

    Raises
    ------
    JournalError
        If the question cannot be asked.
    """
    lines = select_rows(frame, question, catalogue, system)
    if not scored_twice(question, catalogue):
        return None
    other = frame.numbers(question.by[0].key)[lines.lines]
    apart = lines.values[lines.lines] - other
    found = limits_of_agreement(apart, frame.cooks[lines.lines])
    return None if found is None or found.groups < FEW else found


def agreement_words(
    found: AgreementLimits | None, one: Variable, other: Variable, system: UnitSystem
) -> str:
    """Return how far two scores of the same pieces lie apart, in words.

    Parameters
    ----------
    found
        What was found; None where it rests on too few.
    one
        What is shown.
    other
        What it is compared with.
    system
        The units of the words.
    """
    if found is None:
        return "Fewer than three cooks have both scores: too few to say how far they agree."
    what = difference_of(one.dimension)

    def away(value: float) -> str:
        return f"{show(abs(value), what, system)} {'above' if value >= 0 else 'below'}"

    bounds = show_interval(found.low, found.high, what, system, signed=True)
    sure = "" if found.low > 0 or found.high < 0 else ", which may be none"
    return (
        f"{capital(one.label)} lies {away(found.mean)} {other.label} on average "
        f"({bounds}{sure}; {found.n} pieces of {found.groups} cooks). "
        f"Of a single piece it lies from {away(found.lower)} to {away(found.upper)}, "
        f"19 times in 20 ({SOURCE})."
    )
