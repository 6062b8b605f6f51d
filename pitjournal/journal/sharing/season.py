"""The report of a season, or of chosen cooks: what was asked and found, what it took, what is next."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from pitjournal.analysis.contests.season import Season, over_contests
from pitjournal.analysis.safety.cautions import DEFERENCE, FIRE, after_the_cook
from pitjournal.domain.conclusion import Conclusion
from pitjournal.domain.contest import CHECK_THE_RULES, WholeContest
from pitjournal.domain.cook import Cook, CookKind, CookStatus
from pitjournal.domain.times.moments import show_date
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.summary.content import Choice, PlateChart, PrivatePart
from pitjournal.files.summary.report import Report, ReportPart
from pitjournal.journal.queries.season import MOST_OPEN, cooks_of_year, took, year_of
from pitjournal.journal.sharing.plate import plate_chart_of
from pitjournal.journal.sharing.season_figures import cook_lines, fact_lines
from pitjournal.journal.sharing.season_tables import contest_table, fuel_table, yield_table
from pitjournal.units import UnitSystem
from pitjournal.units.figures import counted

if TYPE_CHECKING:
    from pitjournal.analysis.findings.next_cook import Suggestion
    from pitjournal.journal.jobs import Progress
    from pitjournal.journal.journal import Journal

PARTS = (PrivatePart.PLACE, PrivatePart.COSTS)
"""What a report of a season may let out besides; all else that is private stays in any case."""

STAYS = "recipes, suppliers, tasters, notes, photos and clock times"


@dataclass(frozen=True)
class _Asked:
    """A comparison of one or several of the cooks, by the newest of them."""

    newest: WholeCook
    cooks: tuple[WholeCook, ...]
    plate: PlateChart
    next: "Suggestion | None"

    @property
    def question(self) -> str:
        return self.newest.cook.question or self.newest.cook.title

    @property
    def cuts(self) -> str:
        return ", ".join(dict.fromkeys(piece.cut for piece in self.newest.pieces if piece.cut))

    @property
    def is_open(self) -> bool:
        return not any(row.tells for row in self.plate.plate.rows if not row.control)


@dataclass(frozen=True)
class _Material:
    """What a report is made of: cooks newest first, and their contests."""

    wholes: tuple[WholeCook, ...]
    asked: tuple[_Asked, ...]
    season: Season | None
    choice: Choice
    system: UnitSystem

    @property
    def money(self) -> bool:
        return PrivatePart.COSTS in self.choice


def years_with_any(journal: "Journal") -> list[int]:
    """Return the years with a cook or a contest, the newest first."""
    lines = journal.cooks.page(most=max(1, journal.cooks.count()))
    contests = {one.contest.day.year for one in journal.contests.all()}
    return sorted({year_of(line) for line in lines} | contests, reverse=True)


def report_of_year(
    journal: "Journal",
    year: int,
    choice: Choice,
    system: UnitSystem,
    progress: "Progress | None" = None,
) -> Report:
    """Return the report of all cooks and contests of a year; for a worker.

    Parameters
    ----------
    journal
        The open journal.
    year
        On the clocks of each cook and contest.
    choice
        What of `PARTS` leaves; None of it unless it is there.
    system
        The units it is written in.
    progress
        Told of each comparison; raises where nobody waits any more.

    Raises
    ------
    JournalError
        If there is neither a cook nor a contest in that year.
    """
    ids, season = cooks_and_contests(journal, year)
    return _report(journal, f"Season {year}", ids, season, choice, system, progress)


def report_of_cooks(
    journal: "Journal",
    cook_ids: Sequence[str],
    choice: Choice,
    system: UnitSystem,
    progress: "Progress | None" = None,
) -> Report:
    """Return the report of chosen cooks, and of what was turned in from them; for a worker.

    Parameters
    ----------
    journal
        The open journal.
    cook_ids
        Which cooks.
    choice, system, progress
        As in `report_of_year`.

    Raises
    ------
    JournalError
        If none of them is there.
    """
    ids, season = cooks_and_contests(journal, None, cook_ids)
    title = f"{counted(len(ids), 'cook')}, what {'it' if len(ids) == 1 else 'they'} showed"
    return _report(journal, title, ids, season, choice, system, progress)


def _turned_in_from(whole: WholeContest, cook_ids: Sequence[str]) -> WholeContest:
    """Return a contest with only what was turned in from these cooks."""
    mine = tuple(one for one in whole.turn_ins if one.category.cook_id in cook_ids)
    return replace(whole, turn_ins=mine)


def _report(  # noqa: PLR0917 - what a report is of, and for whom
    journal: "Journal",
    title: str,
    cook_ids: Sequence[str],
    season: Season | None,
    choice: Choice,
    system: UnitSystem,
    progress: "Progress | None",
) -> Report:
    found = journal.wholes(list(cook_ids))
    wholes = tuple(found[one] for one in cook_ids if one in found)
    asked = tuple(_asked(journal, wholes, system, progress))
    material = _Material(wholes, asked, season, choice, system)
    leaves, left_out = what_leaves(journal, cook_ids, season, choice)
    in_figures = ReportPart("In figures", facts=tuple(_figures(journal, material)))
    return Report(
        title,
        _under_title(material),
        parts=(
            in_figures,
            *(_asked_part(one) for one in asked),
            _open_part(material),
            _next_part(material),
            *_took(journal, material),
            ReportPart("The usual cautions", quiet=(*after_the_cook(), FIRE, DEFERENCE)),
        ),
        leaves=leaves,
        left_out=left_out,
    )


def _asked(
    journal: "Journal",
    wholes: Sequence[WholeCook],
    system: UnitSystem,
    progress: "Progress | None",
) -> Iterator[_Asked]:
    """Yield each comparison once, by the newest cook of it that was done."""
    from pitjournal.analysis.findings.like import cuts_of, same_comparison
    from pitjournal.analysis.findings.next_cook import suggestions

    left = [one for one in wholes if one.cook.status is CookStatus.DONE and one.control]
    of = max(len(left), 1)
    while left:
        if progress is not None:
            progress.report(1 - len(left) / of, "what the cooks showed")
        newest, left = left[0], left[1:]
        alike = [
            one
            for one in left
            if same_comparison(newest, one)
            and one.cook.outcome == newest.cook.outcome
            and cuts_of(one) == cuts_of(newest)
        ]
        found = journal.findings.of(newest.cook.id, system)
        plate = plate_chart_of(newest, found, system)
        if plate is None:
            continue
        left = [one for one in left if one not in alike]
        told = suggestions(found, newest, system)
        yield _Asked(newest, (newest, *alike), plate, next(iter(told), None))


def _under_title(material: _Material) -> str:
    days = [one.cook.starts_at for one in material.wholes]
    parts = []
    if days:
        last, first = material.wholes[0].cook, material.wholes[-1].cook
        shown = [show_date(one.starts_at, one.zone) for one in (first, last)]
        parts.append(" to ".join(dict.fromkeys(shown)))
        parts.append(counted(len(days), "cook"))
    if material.season is not None:
        parts.append(counted(len(material.season.standings), "contest"))
    return " · ".join(parts)


def _figures(journal: "Journal", material: _Material) -> Iterator[tuple[str, str]]:
    ids = [one.cook.id for one in material.wholes]
    yield from cook_lines(took(journal, ids), material.system, money=material.money)
    yield "pieces", str(sum(len(one.pieces) for one in material.wholes))
    yield "questions compared", str(len(material.asked))
    if material.season is not None:
        yield from fact_lines(material.season, money=material.money)


def _asked_part(asked: _Asked) -> ReportPart:
    """Return what one question came to, over all cooks that asked it."""
    from pitjournal.analysis.findings.plate_words import ALIKE, NOTHING_KNOWN

    named = [
        f"cook {one.cook.number}, {show_date(one.cook.starts_at, one.cook.zone)}"
        for one in asked.cooks
    ]
    said = asked.plate
    calm = said.but in {ALIKE, NOTHING_KNOWN}
    conclusion = f"“{said.conclusion}” ({said.concluded})" if said.conclusion else ""
    return ReportPart(
        asked.question,
        under="; ".join((asked.cuts, *named)) if asked.cuts else "; ".join(named),
        plate=said,
        warns=(said.but,) if said.but and not calm else (),
        words=tuple(text for text in (said.but if calm else "", conclusion) if text),
    )


def _open_part(material: _Material) -> ReportPart:
    """Return what has no answer yet, and what was not cooked yet."""
    lines = []
    for one in material.asked:
        if one.is_open:
            verdicts = dict.fromkeys(row.verdict for row in one.plate.plate.rows if not row.control)
            of = f" ({one.cuts})" if one.cuts else ""
            lines.append(f"{one.question}{of} {'; '.join(verdicts)}.")
    for whole in material.wholes:
        if whole.cook.status is not CookStatus.DONE:
            state = "planned" if whole.cook.status is CookStatus.PLANNED else "under way"
            lines.append(f"{whole.cook.question or whole.cook.title} ({state})")
    return ReportPart("What stays open", listed=tuple(lines))


def _next_part(material: _Material) -> ReportPart:
    """Return the cooks that would tell most, those for open questions first."""
    told = [one for one in material.asked if one.next is not None]
    told.sort(key=lambda one: not one.is_open)
    lines = [
        f"{one.next.heading}, for “{one.question}” {one.next.words}"
        for one in told[:MOST_OPEN]
        if one.next is not None
    ]
    return ReportPart("Next", listed=tuple(lines))


def _took(journal: "Journal", material: _Material) -> Iterator[ReportPart]:
    """Yield fuel, yields and contests, each as a table."""
    rows = journal.values([one.cook.id for one in material.wholes])
    tables = [
        fuel_table(material.wholes, rows, material.system),
        yield_table(material.wholes, rows, material.system),
    ]
    if material.season is not None:
        where = PrivatePart.PLACE in material.choice
        tables.append(contest_table(material.season, where=where, foot=CHECK_THE_RULES))
    yield from (ReportPart(table.title, table=table) for table in tables if table)


def what_leaves(
    journal: "Journal", cook_ids: Sequence[str], season: Season | None, choice: Choice
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what leaves with a report of these cooks, and what was recorded of it and stays.

    Parameters
    ----------
    journal
        The open journal.
    cook_ids
        Which cooks.
    season
        Their contests; None where there is none.
    choice
        What of `PARTS` leaves.
    """
    of = set(cook_ids)
    leaves = ["titles, questions, arms and dates", "the findings, and what is open"]
    leaves.append("fuel, hours, cuts and yields")
    if any(one.cook_id in of for one in journal.find(Conclusion)):
        leaves.append("your conclusions, as you wrote them")
    left_out = [STAYS]
    contests = [] if season is None else [one.contest for one in season.standings]
    if contests:
        leaves.append("contests with totals and places")
    costs = [one.cost for one in contests] + [one.paid for one in contests]
    costs += [cook.cost for cook in journal.find(Cook) if cook.id in of]
    if any(cost is not None for cost in costs):
        (leaves if PrivatePart.COSTS in choice else left_out).append("costs and prizes")
    if any(one.place for one in contests):
        (leaves if PrivatePart.PLACE in choice else left_out).append("where contests were")
    return tuple(leaves), tuple(left_out)


def cooks_and_contests(
    journal: "Journal", year: int | None, cook_ids: Sequence[str] = ()
) -> tuple[list[str], Season | None]:
    """Return what a report is of: a year's cooks and contests, or chosen cooks and theirs.

    Parameters
    ----------
    journal
        The open journal.
    year
        On the clocks of each cook and contest; None for chosen cooks.
    cook_ids
        Those chosen.

    Raises
    ------
    JournalError
        If there is nothing to report on.
    """
    contests = list(journal.contests.all())
    if year is not None:
        ids = [line.id for line in cooks_of_year(journal, year, frozenset(CookKind))]
        contests = [one for one in contests if one.contest.day.year == year]
        if not ids and not contests:
            raise JournalError(f"No cook and no contest in {year}.", "Choose another year.")
    else:
        ids = [line.id for line in journal.cooks.lines(list(cook_ids))]
        contests = [_turned_in_from(one, ids) for one in contests]
        contests = [one for one in contests if one.turn_ins]
        if not ids:
            raise JournalError("There is no cook to report on.", "Choose one or more cooks.")
    newest = max((one.contest.day.year for one in contests), default=0)
    return ids, over_contests(contests, newest) if contests else None
