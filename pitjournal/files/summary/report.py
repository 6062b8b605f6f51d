"""A report of several parts, for a page and for print: a season, the sheet of a class."""

from dataclasses import dataclass

from pitjournal.files.marks import LIGHT, NIGHT
from pitjournal.files.summary.content import PlateChart, SummaryTable
from pitjournal.files.summary.html import environment, inline
from pitjournal.files.summary.plate_svg import plate_chart

SMALL = 0.82
"""A plate among others is so much smaller than one that stands alone."""


@dataclass(frozen=True)
class ReportPart:
    """A heading with what stands below it, in this order; whatever is empty is left out.

    Attributes
    ----------
    heading
        What it is about.
    under
        A quiet line below the heading, such as when it was.
    warns
        What has to be seen.
    plate
        What was found, drawn small.
    words
        Paragraphs.
    steps, listed
        Lines that are numbered, and lines that are not.
    facts
        Names, each with its value.
    table
        A table.
    quiet
        What is said smaller at the end.
    """

    heading: str
    under: str = ""
    warns: tuple[str, ...] = ()
    plate: PlateChart | None = None
    words: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    listed: tuple[str, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()
    table: SummaryTable | None = None
    quiet: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        said = (self.warns, self.plate, self.words, self.steps, self.listed, self.facts)
        return any(said) or bool(self.table) or bool(self.quiet)


@dataclass(frozen=True)
class Report:
    """What is written: `one_page` is printed on one, however small that gets within reason."""

    title: str
    under_title: str
    question: str = ""
    parts: tuple[ReportPart, ...] = ()
    leaves: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    one_page: bool = False

    @property
    def numbered(self) -> tuple[tuple[int, ReportPart], ...]:
        """The parts that say anything, each with its place."""
        return tuple((place, part) for place, part in enumerate(self.parts) if part)

    @property
    def looks(self) -> frozenset[int]:
        """The marks of arms that stand in its tables."""
        tables = [part.table for part in self.parts if part.table is not None]
        return frozenset(look for table in tables for look in table.looks if look is not None)


def report_plates(report: Report) -> dict[int, str]:
    """Return the plates that are drawn, as SVG, by the place of their part."""
    drawn = {
        place: plate_chart(part.plate, SMALL)
        for place, part in enumerate(report.parts)
        if part.plate is not None
    }
    return {place: svg for place, svg in drawn.items() if svg}


def report_to_html(report: Report) -> str:
    """Return the page: style and plates inside, nothing fetched from anywhere."""
    plates = {place: inline(svg) for place, svg in report_plates(report).items()}
    template = environment().get_template("report.html")
    return template.render(page=report, plates=plates, light=LIGHT, night=NIGHT)


def report_to_print(report: Report) -> str:
    """Return the plainer HTML that a print engine lays out.

    The place of a plate is a paragraph ``chart:N``, N the place of its part.
    """
    plates = set(report_plates(report))
    return environment().get_template("report_print.html").render(page=report, plates=plates)
