import re
from dataclasses import replace
from html.parser import HTMLParser
from xml.etree import ElementTree as ET

import html5rdf
import pytest

from pitjournal.files.summary import charts_of, to_html, to_print
from tests.files.summary.sample import a_summary

VOID = {"meta", "img", "br", "link", "input", "hr"}


class Page(HTMLParser):
    """Collects tags, addresses and text; checks that tags nest."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def parsed(html: str) -> Page:
    page = Page()
    page.feed(html)
    page.close()
    assert not page.open
    return page


def test_that_the_page_fetches_nothing() -> None:
    html = to_html(a_summary())
    page = parsed(html)
    addresses = [
        value
        for tag, attributes in page.tags
        if tag != "a"  # a link is followed by a reader, not by the page
        for name, value in attributes.items()
        if name in {"src", "href", "srcset", "poster", "data", "action", "xlink:href"}
    ]
    assert addresses
    assert all(value and value.startswith("data:") for value in addresses)
    links = [attributes["href"] for tag, attributes in page.tags if tag == "a"]
    assert links
    assert all(link and link.startswith("pitjournal:") for link in links)
    assert not re.search(r"url\(|@import|https?:|//", re.sub(r"base64,[\w+/=]+", "", html))
    assert {"script", "link", "iframe", "object"}.isdisjoint(tag for tag, _ in page.tags)


def test_that_a_hostile_title_stays_words() -> None:
    title = "<script>alert(1)</script> \"&' <img src=x onerror=y>"
    summary = replace(a_summary(title), question=title, notes=(title,))
    page = parsed(to_html(summary))
    tags = [tag for tag, _ in page.tags]
    assert "script" not in tags
    assert tags.count("img") == 1  # the photo
    assert "".join(page.text).count(title) == 3  # title, heading, note; the question is the title


def test_that_a_hostile_arm_stays_words_in_the_charts() -> None:
    summary = a_summary()
    assert summary.points
    arms = tuple(replace(arm, name="</svg><b>&") for arm in summary.points.arms)
    summary = replace(summary, points=replace(summary.points, arms=arms))
    assert "b" not in [tag for tag, _ in parsed(to_html(summary)).tags]


def test_that_tables_say_what_each_cell_is_about() -> None:
    page = parsed(to_html(a_summary()))
    heads = [attributes for tag, attributes in page.tags if tag == "th"]
    assert heads
    assert all(attributes.get("scope") in {"row", "col"} for attributes in heads)
    assert sum(tag == "caption" for tag, _ in page.tags) == sum(
        tag == "table" for tag, _ in page.tags
    )
    assert ("html", {"lang": "en"}) in page.tags


def test_that_each_picture_is_told_in_words() -> None:
    page = parsed(to_html(a_summary()))
    photos = [attributes for tag, attributes in page.tags if tag == "img"]
    assert [attributes["alt"] for attributes in photos] == ["The racks"]
    said = [attributes for tag, attributes in page.tags if tag == "svg"]
    assert all(
        attributes.get("role") == "img" or attributes.get("aria-hidden") == "true"
        for attributes in said
    )


def test_that_arms_differ_by_shape_as_well_as_by_colour() -> None:
    _, svg = charts_of(a_summary())[0]
    root = ET.fromstring(svg)
    corners = {
        element.get("class"): len((element.get("points") or "").split())
        for element in root.iter("{http://www.w3.org/2000/svg}polygon")
    }
    circles = list(root.iter("{http://www.w3.org/2000/svg}circle"))
    assert corners == {"fill arm-1": 4, "fill arm-2": 3}
    assert len(circles) == 3


def test_that_the_page_has_a_night_and_a_print_side() -> None:
    html = to_html(a_summary())
    assert "prefers-color-scheme: dark" in html
    assert "@media print" in html


def test_that_what_is_absent_has_no_heading() -> None:
    bare = replace(
        a_summary(),
        notes=(),
        photos=(),
        cautions=(),
        points=None,
        intervals=None,
        curves=None,
        facts=(),
        tables=(),
        protects=(),
    )
    text = "".join(parsed(to_html(bare)).text)
    assert "Notes" not in text
    assert "Safety" not in text
    assert "The cook" not in text
    assert charts_of(bare) == []


def test_that_print_has_a_place_for_each_chart() -> None:
    printed = to_print(a_summary())
    assert [f'src="chart:{place}"' in printed for place in range(4)] == [True, True, True, False]


@pytest.mark.parametrize("part", ["title", "question"])
def test_that_words_of_the_cook_are_on_the_page(part: str) -> None:
    summary = a_summary()
    assert getattr(summary, part) in "".join(parsed(to_html(summary)).text)


def test_that_a_question_to_all_cooks_has_its_link_on_page_and_paper() -> None:
    for text in (to_html(a_summary()), to_print(a_summary())):
        (link,) = [attributes for tag, attributes in parsed(text).tags if tag == "a"]
        assert link["href"] == "pitjournal:ask?tenderness%20by%20cut"
        assert ">tenderness by cut</a>" in text
        assert "Exploratory: a hint, not a test." in text


def test_that_every_page_is_sound_html() -> None:
    """WHATWG HTML, 13.2: a strict parser of the standard's own algorithm finds no error."""
    html5rdf.HTMLParser(strict=True).parse(to_html(a_summary()))
