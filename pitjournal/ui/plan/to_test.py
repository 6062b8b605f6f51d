"""Start a cook that would test what a trend hints at."""

from typing import TYPE_CHECKING

from pitjournal.ui.desk import ToTest

if TYPE_CHECKING:
    from pitjournal.ui.plan.new_cook import NewCookPage


def take_test(page: "NewCookPage", test: ToTest) -> None:
    """Fill a new cook's page with a question, its ways, its cut, and what counts."""
    page.clear()
    page.question.set_value(test.question)
    page.what.choose_ways(test.variable, test.ways)
    page.cut.set_value(test.cut or None)
    page.outcome.choose(test.outcome)
    page.show_draft()
