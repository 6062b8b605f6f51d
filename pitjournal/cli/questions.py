"""A question on the command line: a sentence, a saved question's name, or a link."""

from pitjournal.analysis.trends.language.link import sentence_in
from pitjournal.analysis.trends.language.sentence import parse_sentence
from pitjournal.analysis.trends.language.written import write_sentence
from pitjournal.analysis.trends.stored import asked
from pitjournal.domain.shelf import SavedQuestion
from pitjournal.journal import Journal
from pitjournal.journal.commands.questions import in_order
from pitjournal.journal.sharing.questions import ToAnswer
from pitjournal.units import UnitSystem


def saved_questions(journal: Journal) -> list[SavedQuestion]:
    """Return the saved questions in their order."""
    return in_order(journal.find(SavedQuestion))


def asked_in_words(words: str, journal: Journal, system: UnitSystem) -> ToAnswer:
    """Return the question saved by this name, else the one that a sentence or link asks.

    Raises
    ------
    JournalError
        If it is not understood, or a newer version saved it.
    """
    wanted = words.strip().casefold()
    for saved in saved_questions(journal):
        if saved.name.casefold() == wanted:
            return ToAnswer(saved.name, asked(saved.question))
    sentence = sentence_in(words)
    catalogue = journal.catalogue()
    found = parse_sentence(sentence, catalogue, system, journal.trends.values_of)
    return ToAnswer(write_sentence(found, catalogue, system), found)
