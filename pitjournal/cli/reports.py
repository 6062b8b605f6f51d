"""What the commands that write a report have in common."""

from pathlib import Path
from typing import TYPE_CHECKING

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, system_of
from pitjournal.files.formats import format_for
from pitjournal.files.paper import usual_paper
from pitjournal.files.writing import write_bytes
from pitjournal.ui.summary_formats import REPORT_FORMATS, ReportToWrite

if TYPE_CHECKING:
    from pitjournal.files.summary.report import Report


def write_report(report: "Report", arguments: Arguments) -> None:
    """Write a report where `--to` says; say what leaves with it and what does not."""
    target: Path = arguments.to
    form = format_for(target, REPORT_FORMATS)
    paper = arguments.paper or usual_paper(system_of(arguments))
    write_bytes(target, form.make(ReportToWrite(report, paper)))
    if arguments.json:
        as_json(
            {
                "file": str(target.absolute()),
                "leaves": list(report.leaves),
                "left_out": list(report.left_out),
            }
        )
        return
    line(f"Written to {target}.")
    line(f"Leaves with it: {'; '.join(report.leaves)}.")
    if report.left_out:
        line(f"Stays here: {'; '.join(report.left_out)}.")
