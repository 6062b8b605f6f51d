"""What the day of a plan can be written as, for the window and the command line alike."""

from dataclasses import dataclass
from datetime import datetime

from pitjournal.analysis.plan.past import Past
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.formats import Format
from pitjournal.files.plan_card import card_to_print
from pitjournal.journal import Journal
from pitjournal.ui.plan.day_calendar import calendar_of
from pitjournal.units import UnitSystem


@dataclass(frozen=True)
class Day:
    """A plan on its way into a file, with what is known of past cooks."""

    journal: Journal
    whole: WholeCook
    past: Past | None
    system: UnitSystem
    paper: str
    now: datetime


def _card(day: Day) -> bytes:
    from pitjournal.ui.plan.card import card_of  # noqa: PLC0415 - Qt, where it is printed
    from pitjournal.ui.printing.pages import mark_pictures  # noqa: PLC0415 - Qt, where printed
    from pitjournal.ui.printing.printed import pdf_of_html  # noqa: PLC0415 - Qt, where it is printed

    card = card_of(day.journal, day.whole, day.past, day.system)
    drawn = mark_pictures(card.looks)
    return pdf_of_html(card_to_print(card), card.title, day.paper, drawn)[0]


def _calendar(day: Day) -> bytes:
    return calendar_of(day.whole, day.system, day.now).encode()


CARD = Format(".pdf", "card to print", _card)
CALENDAR = Format(".ics", "calendar file", _calendar)
DAY_FORMATS: tuple[Format[Day], ...] = (CALENDAR, CARD)
