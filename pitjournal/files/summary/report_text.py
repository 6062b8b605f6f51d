"""A report as plain words, for a message or a screen that shows no pages."""

from collections.abc import Iterator

from pitjournal.files.summary.content import SummaryTable
from pitjournal.files.summary.report import Report, ReportPart


def report_to_text(report: Report) -> str:
    """Return a report as lines of words; plates, which are drawings, are left out."""
    head = [report.title, report.under_title, report.question]
    lines = [line for line in head if line]
    for _, part in report.numbered:
        found = list(_part(part))
        if found:
            lines += ["", *([part.heading] if part.heading else []), *found]
    return "\n".join(lines) + "\n"


def _part(part: ReportPart) -> Iterator[str]:
    if part.under:
        yield part.under
    yield from part.warns
    yield from part.words
    yield from (f"{number}. {step}" for number, step in enumerate(part.steps, 1))
    yield from (f"- {line}" for line in part.listed)
    yield from (f"{name}: {value}" for name, value in part.facts)
    if part.table is not None:
        yield from _table(part.table)
    yield from part.quiet


def _table(table: SummaryTable) -> Iterator[str]:
    """Yield a row a line; a message has no columns, so what is empty takes no room."""
    for _, cells in table.rows:
        yield "  ".join(cell for cell in cells if cell)
    if table.foot:
        yield table.foot
