"""Questions to all cooks in one cook's summary: their answers, less what is private."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pitjournal.domain.catalogue import Catalogue, Kind, Origin, Variable
from pitjournal.files.summary.content import (
    AnsweredQuestion,
    Choice,
    PrivatePart,
    SummaryTable,
    TableColumn,
)
from pitjournal.journal.journal import Journal
from pitjournal.journal.sharing.facts import PART_WORDS, SHARES
from pitjournal.journal.sharing.figures import Figures
from pitjournal.journal.sharing.tables import number_column, titled
from pitjournal.units import UnitSystem, show_interval

if TYPE_CHECKING:
    from pitjournal.analysis.trends.answer import Answer, Group
    from pitjournal.analysis.trends.question import Question

MOST_ROWS = 24
"""So many groups are shown."""

_PRIVATE = {
    "place": PrivatePart.PLACE,
    "altitude": PrivatePart.PLACE,
    "supplier": PrivatePart.SUPPLIER,
    "lot": PrivatePart.SUPPLIER,
    "cost": PrivatePart.COSTS,
    "price": PrivatePart.COSTS,
    "cost_per_edible": PrivatePart.COSTS,
    "text": PrivatePart.NOTES,
}
_SHARES = frozenset({"salt_in_meat", "phosphate_in_meat"})


@dataclass(frozen=True)
class ToAnswer:
    """A question chosen for a summary, with the name it goes by, which may be its sentence."""

    name: str
    question: "Question"


def may_leave(
    chosen: Sequence[ToAnswer], catalogue: Catalogue, choice: Choice
) -> tuple[list[ToAnswer], list[str], list[str]]:
    """Return the questions that may leave, and in words what leaves and what stays.

    A question over something private stays, unless that was chosen too.
    """
    leaving: list[ToAnswer] = []
    leaves: list[str] = []
    stays: list[str] = []
    for one in chosen:
        needed = tuple(dict.fromkeys(_needed(one.question, catalogue, choice)))
        name = f"“{one.name}”"
        if needed:
            stays.append(f"the question {name} (it tells of {' and '.join(needed)})")
        else:
            leaving.append(one)
            leaves.append(f"the question {name}, answered by all your cooks")
    return leaving, leaves, stays


def _needed(question: "Question", catalogue: Catalogue, choice: Choice) -> Iterator[str]:
    """Tell what a question would let out that was not chosen."""
    keys = (
        question.measure,
        *(by.key for by in question.by),
        *(where.key for where in question.where),
        *question.held,
    )
    for key in keys:
        variable = catalogue.get(key)
        part = None if variable is None else _part(variable)
        if part is not None and part not in choice:
            yield PART_WORDS[part]
        if key in _SHARES and not choice.ratios:
            yield SHARES


def _part(variable: Variable) -> PrivatePart | None:
    own_words = variable.origin is Origin.OWN and variable.kind is Kind.TEXT
    return PrivatePart.NOTES if own_words else _PRIVATE.get(variable.key)


def answers(
    journal: Journal, leaving: Sequence[ToAnswer], system: UnitSystem
) -> tuple[AnsweredQuestion, ...]:
    """Return what all cooks say to each question.

    Raises
    ------
    JournalError
        If one cannot be asked.
    """
    return tuple(_asked(journal, one, system) for one in leaving)


def _asked(journal: Journal, one: ToAnswer, system: UnitSystem) -> AnsweredQuestion:
    from pitjournal.analysis.trends.inference.agreement import (
        agreement,
        agreement_words,
        scored_twice,
    )
    from pitjournal.analysis.trends.language.link import link_to
    from pitjournal.analysis.trends.language.written import write_sentence

    catalogue, question = journal.catalogue(), one.question
    found = journal.trends.ask(question, system)
    sentence = write_sentence(question, catalogue, system)
    counted = f"{found.cooks} cooks and {found.pieces} pieces counted"
    missing = f"not recorded: {found.not_recorded} pieces"
    words = [f"Exploratory: a hint, not a test. {counted}; {missing}."]
    if any(group.few for group in found.groups):
        words.append("Few: it rests on fewer than three cooks.")
    if scored_twice(question, catalogue):
        apart = agreement(found.frame, question, catalogue, system)
        words.insert(0, agreement_words(apart, found.measure, found.by[0], system))
    rest = len(found.groups) - MOST_ROWS
    if rest > 0:
        words.append(f"{rest} more groups are not shown.")
    title = "Asked of all cooks" if one.name == sentence else f"Asked of all cooks: {one.name}"
    table = _table(found, title, Figures(system))
    return AnsweredQuestion(sentence, link_to(sentence), table, tuple(words))


def _table(found: "Answer", title: str, figures: Figures) -> SummaryTable:
    groups, what = found.groups[:MOST_ROWS], found.measure
    columns = [
        TableColumn(titled(variable.label), tuple(group.key[place] for group in groups))
        for place, variable in enumerate(found.by)
    ] or [TableColumn("", ("all cooks",) * len(groups))]
    return SummaryTable(
        title,
        (
            *columns,
            number_column(what, (group.mean for group in groups), figures),
            TableColumn("95 % interval", tuple(_bounds(group, what, figures) for group in groups)),
            TableColumn(
                "Cooks",
                tuple(f"{group.cooks}, few" if group.few else f"{group.cooks}" for group in groups),
                numbers=tuple(float(group.cooks) for group in groups),
            ),
            TableColumn(
                "Pieces",
                tuple(f"{group.pieces}" for group in groups),
                numbers=tuple(float(group.pieces) for group in groups),
            ),
        ),
    )


def _bounds(group: "Group", what: Variable, figures: Figures) -> str:
    return show_interval(group.low, group.high, what.dimension, figures.system)
