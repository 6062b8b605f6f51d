"""A summary as one self-contained HTML page."""

import base64
from functools import cache

from jinja2 import Environment
from markupsafe import Markup

from pitjournal.files.marks import LIGHT, NIGHT
from pitjournal.files.summary.charts import curve_chart, interval_chart, point_chart
from pitjournal.files.summary.content import Summary, SummaryPhoto
from pitjournal.files.summary.plate_svg import plate_chart
from pitjournal.files.summary.ribbon_svg import ribbon_chart
from pitjournal.files.summary.svg import mark_svg
from pitjournal.files.templates import template_environment


@cache
def environment() -> Environment:
    """Return the templates, with what fills in marks and pictures."""
    made = template_environment()
    made.filters["mark"] = lambda look: inline(mark_svg(look))
    made.filters["address"] = _address
    return made


def charts_of(summary: Summary) -> list[tuple[str, str]]:
    """Return the summary's charts, each a title and its SVG; what has nothing to show is out."""
    drawn = []
    if summary.points:
        drawn.append((summary.points.title, point_chart(summary.points)))
    if summary.intervals:
        drawn.append((summary.intervals.title, interval_chart(summary.intervals)))
    if summary.day:
        drawn.append((summary.day.title, ribbon_chart(summary.day)))
    if summary.curves:
        drawn.append((summary.curves.title, curve_chart(summary.curves)))
    return [(title, svg) for title, svg in drawn if svg]


def to_html(summary: Summary) -> str:
    """Return the page: style, charts and photos inside, nothing fetched from anywhere."""
    charts = [(title, inline(svg)) for title, svg in charts_of(summary)]
    plate = "" if summary.plate is None else inline(plate_chart(summary.plate))
    return (
        environment()
        .get_template("summary.html")
        .render(page=summary, summary=summary, plate=plate, charts=charts, light=LIGHT, night=NIGHT)
    )


def to_print(summary: Summary) -> str:
    """Return the plainer HTML that a print engine lays out.

    Each chart's place is a paragraph ``chart:N``, N its place in `charts_of`.
    """
    titles = [title for title, _ in charts_of(summary)]
    plated = summary.plate is not None and bool(summary.plate.plate.rows)
    template = environment().get_template("summary_print.html")
    return template.render(summary=summary, titles=titles, plated=plated)


def inline(svg: str) -> Markup:
    """Return a picture as a part of the page, which needs no name space."""
    return Markup(svg.replace(' xmlns="http://www.w3.org/2000/svg"', ""))  # noqa: S704 - escaped


def _address(photo: SummaryPhoto) -> str:
    return f"data:{photo.media_type};base64,{base64.b64encode(photo.data).decode()}"
