"""Where in the window to go, and with what: said once, in one piece."""

from dataclasses import dataclass

from pitjournal.analysis.trends.question import Where


@dataclass(frozen=True)
class ToTest:
    """What a new cook is to test: a question, what changes in which ways, and what counts."""

    question: str
    variable: str
    ways: tuple[str, ...]
    outcome: str
    cut: str = ""


@dataclass(frozen=True, kw_only=True)
class Destination:
    """A place or a panel by name, and what it is gone to with.

    `cook_id` and `page` name a cook and a page of it, `view` what is shown there; `where` the filters that the list or Trends
    takes over; `question_id` a saved question that is asked; `test` what a new cook is to test;
    `cook_ids` the few cooks that are shown, `named` what they are called in the list; `contest_id` names a
    contest, whose category `page` is then.
    """

    place: str
    cook_id: str = ""
    page: str = ""
    view: str = ""
    where: tuple[Where, ...] | None = None
    question_id: str = ""
    test: ToTest | None = None
    cook_ids: tuple[str, ...] = ()
    named: str = ""
    contest_id: str = ""
