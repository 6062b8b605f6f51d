"""`pitjournal findings`: what one cook's comparison found."""

import textwrap
from contextlib import closing
from typing import TYPE_CHECKING

from pitjournal.analysis.trade_words import in_points
from pitjournal.cli.output import as_json, heading, left_out, line, table
from pitjournal.cli.parser import Arguments, Parser, system_of
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Summary, SummaryTable
from pitjournal.journal import open_journal
from pitjournal.units import UnitSystem, difference_of, show
from pitjournal.units.figures import percent

if TYPE_CHECKING:
    from pitjournal.analysis.findings.findings import Findings
    from pitjournal.analysis.findings.slow_findings import SlowFindings

WIDE = 78


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("cook", metavar="COOK")
    parser.add_units()
    parser.add_argument("--every-cut", action="store_true", default=None)
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Say it, as sentences and tables or as JSON."""
    system = system_of(arguments)
    with closing(open_journal(arguments.journal, read_only=True)) as journal:
        cook_id = journal.cooks.find(arguments.cook)
        if arguments.json:
            from pitjournal.analysis.findings import as_json as answer
            from pitjournal.journal.sharing import protecting_words

            found = journal.findings.of(cook_id, system, every_cut=arguments.every_cut)
            said = answer.as_json(found, journal.findings.slow(cook_id))
            as_json({**said, "protects": protecting_words(journal, cook_id, system)})
        else:
            from pitjournal.journal.sharing import whole_summary

            tell(whole_summary(journal, cook_id, system=system, every_cut=arguments.every_cut))
            tell_by_lot(journal.findings.of(cook_id, system, every_cut=arguments.every_cut))
            tell_deeper(
                journal.findings.slow(cook_id), journal.whole(cook_id), journal.catalogue(), system
            )
        left_out(journal)
    return 0


def tell_by_lot(found: "Findings") -> None:
    """Write how seldom the lot alone sets the arms of this cook so far apart."""
    if not found.lots:
        return
    heading("This cook by the lot itself")
    names = {arm.arm_id: arm.name for arm in found.arms}
    for lot in found.lots:
        line(textwrap.fill(f"{names[lot.arm_id]}: {lot.words}.", WIDE))


def tell_deeper(
    deeper: "SlowFindings", whole: WholeCook, catalogue: Catalogue, system: UnitSystem
) -> None:
    """Write what the panel said on its own scale, and where the spread comes from."""
    for scale in deeper.scales:
        heading(scale.title)
        for words in scale.words:
            line(textwrap.fill(words, WIDE))
    outcome = catalogue.get(whole.cook.outcome or "")
    if deeper.spread is None or outcome is None:
        return
    heading("Where the spread comes from")
    what = difference_of(outcome.dimension)
    rows = [
        (
            source.name,
            in_points(show(source.sd, what, system)),
            percent(source.share or 0),
            str(source.levels),
        )
        for source in deeper.spread.sources
        if source.sd is not None
    ]
    table(("Source", "Standard deviation", "Share", "Of them"), rows, right=(1, 2, 3))


def tell(summary: Summary) -> None:
    """Write findings as text."""
    line(summary.title)
    line(summary.under_title)
    if summary.question and summary.question != summary.title:
        line(summary.question)
    line()
    for words in summary.words:
        line(textwrap.fill(words, WIDE))
    for words in summary.protects:
        line(textwrap.fill(words, WIDE))
    for found in (*summary.tables, summary.pieces):
        tell_table(found)
    if summary.cautions:
        heading("Safety facts")
        rows = [(c.fact, c.state, c.source) for c in summary.cautions]
        table(("Fact", "State", "Source"), rows)
    for words in summary.usual:
        line(textwrap.fill(words, WIDE))
    line(textwrap.fill(summary.deference, WIDE))


def tell_table(found: SummaryTable) -> None:
    """Write a table under its title."""
    if not found:
        return
    heading(found.title)
    right = [place for place, column in enumerate(found.columns) if column.right]
    table([column.head for column in found.columns], [row for _, row in found.rows], right=right)
    if found.foot:
        line(textwrap.fill(found.foot, WIDE))
