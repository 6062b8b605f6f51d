"""`pitjournal trends`: a measure by any variable, over all cooks."""

import csv
import sys
from contextlib import closing
from typing import TYPE_CHECKING

from pitjournal.cli.output import as_json, left_out, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.errors import JournalError
from pitjournal.journal import Journal, open_journal
from pitjournal.units import STORED, UnitSystem, difference_of, show, show_interval

if TYPE_CHECKING:
    from pitjournal.analysis.trends.answer import Answer
    from pitjournal.analysis.trends.question import Question
    from pitjournal.domain.catalogue import Catalogue
    from pitjournal.science.sensory.agreement import AgreementLimits


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--question", metavar="WORDS")
    parser.add_argument("--show", metavar="MEASURE")
    parser.add_argument("--by", metavar="VARIABLE", action="append", default=[])
    parser.add_argument("--where", metavar="VARIABLE=VALUE", action="append", default=[])
    parser.add_argument("--within", action="store_true")
    parser.add_argument("--variables", action="store_true")
    parser.add_argument("--questions", action="store_true")
    parser.add_units()
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true")
    form.add_argument("--csv", action="store_true")


def run(arguments: Arguments) -> int:
    """Ask, and tell the answer."""
    from pitjournal.analysis.trends.inference.agreement import (
        agreement,
        agreement_words,
        scored_twice,
    )

    system = system_of(arguments)
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        catalogue = journal.catalogue()
        if arguments.variables:
            return _variables(catalogue, json=arguments.json)
        if arguments.questions:
            return _questions(journal, catalogue, system, json=arguments.json)
        question = _question(arguments, journal, catalogue, system)
        found = journal.trends.ask(question, system)
        apart = agreement(found.frame, question, catalogue, system)
        left_out(journal)
    if arguments.json:
        as_json({**_as_json(found, catalogue, system), "agreement": _agreement(apart)})
    elif arguments.csv:
        _as_csv(found, system)
    else:
        _tell(found, catalogue, system)
        if scored_twice(question, catalogue):
            line(agreement_words(apart, found.measure, found.by[0], system))
    return 0


def _question(
    arguments: Arguments, journal: Journal, catalogue: "Catalogue", system: UnitSystem
) -> "Question":
    from pitjournal.analysis.trends.question import Question, by_of, variable_named, where_of
    from pitjournal.cli.questions import asked_in_words

    if arguments.question is not None:
        if arguments.show is not None or arguments.by or arguments.where or arguments.within:
            message = "A whole question leaves nothing to add."
            raise JournalError(message, "Give --question alone, or --show with --by and --where.")
        return asked_in_words(arguments.question, journal, system).question
    if arguments.show is None:
        message = "What is to be shown?"
        raise JournalError(message, "Add --show, such as --show yield; list with --variables.")
    return Question(
        variable_named(catalogue, arguments.show).key,
        tuple(by_of(catalogue, words) for words in arguments.by),
        tuple(where_of(catalogue, words, system) for words in arguments.where),
        arguments.within,
    )


def _questions(journal: Journal, catalogue: "Catalogue", system: UnitSystem, *, json: bool) -> int:
    from pitjournal.analysis.trends.language.written import write_sentence
    from pitjournal.analysis.trends.stored import asked
    from pitjournal.cli.questions import saved_questions

    rows = []
    for saved in saved_questions(journal):
        try:
            sentence: str | None = write_sentence(asked(saved.question), catalogue, system)
        except JournalError as error:
            sentence = None if json else error.message
        rows.append((saved.name, sentence))
    if json:
        as_json([{"name": name, "question": sentence} for name, sentence in rows])
    elif rows:
        table(("Name", "Question"), [(name, sentence or "") for name, sentence in rows])
    else:
        line("No question is saved yet. Save one in Trends.")
    return 0


def _variables(catalogue: "Catalogue", *, json: bool) -> int:
    rows = [(v.key, v.label, str(v.level), str(v.kind)) for v in catalogue.values()]
    if json:
        as_json([{"key": k, "label": n, "level": lv, "kind": kd} for k, n, lv, kd in rows])
    else:
        table(("Key", "Name", "Of", "Kind"), rows)
    return 0


def _as_json(found: "Answer", catalogue: "Catalogue", system: UnitSystem) -> dict[str, object]:
    from pitjournal.analysis.trends.language.link import link_to
    from pitjournal.analysis.trends.language.written import write_filter, write_sentence

    sentence = write_sentence(found.question, catalogue, system)
    return {
        "question": sentence,
        "link": link_to(sentence),
        "measure": found.measure.key,
        "unit": STORED[found.measure.dimension],
        "by": [by.key for by in found.question.by],
        "where": [write_filter(where, catalogue, system) for where in found.question.where],
        "groups": [
            {
                "key": list(group.key),
                "cooks": group.cooks,
                "pieces": group.pieces,
                "mean": group.mean,
                "low": group.low,
                "high": group.high,
                "sd": group.sd,
                "median": group.median,
            }
            for group in found.groups
        ],
        "not_recorded": found.not_recorded,
    }


def _agreement(apart: "AgreementLimits | None") -> dict[str, object] | None:
    if apart is None:
        return None
    return {
        "mean": apart.mean,
        "low": apart.low,
        "high": apart.high,
        "limits": [apart.lower, apart.upper],
        "pieces": apart.n,
        "cooks": apart.groups,
    }


def _as_csv(found: "Answer", system: UnitSystem) -> None:
    from pitjournal.analysis.trends.table import table_of

    csv.writer(sys.stdout).writerows(table_of(found, system))


def _tell(found: "Answer", catalogue: "Catalogue", system: UnitSystem) -> None:
    what = found.measure
    by = " and ".join(variable.label for variable in found.by)
    line(f"{what.label}{' by ' + by if by else ''}: mean over cooks, 95 % interval")
    line()
    if not found.groups:
        line("No cook has what is asked for.")
        if others := catalogue.own_scales(found.measure):
            line(f"Brought along from old tables: {', '.join(others)}. Ask for that.")
    rows = []
    for group in found.groups:
        bounds = show_interval(group.low, group.high, what.dimension, system)
        sd = show(group.sd, difference_of(what.dimension), system)
        rows.append(
            (
                *group.key,
                str(group.cooks),
                str(group.pieces),
                show(group.mean, what.dimension, system),
                bounds,
                "–" if group.sd is None else sd,
                "few" if group.few else "",
            )
        )
    heads = [*(v.label for v in found.by), "Cooks", "Pieces", "Mean", "95 % interval", "SD", ""]
    count = len(found.by)
    table(heads, rows, right=(count, count + 1, count + 2))
    line()
    line(f"Exploratory: a trend is a hint. Not recorded: {found.not_recorded} pieces.")
