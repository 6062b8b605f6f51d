"""What a cook showed, kept until the cook changes."""

from typing import TYPE_CHECKING

from pitjournal.domain.cook import Arm
from pitjournal.domain.event import DonenessCheck, Event
from pitjournal.domain.impossible import possible
from pitjournal.domain.past import RowStep
from pitjournal.domain.piece import Piece
from pitjournal.domain.record import Record
from pitjournal.domain.tasting import Sample, Score, Tasting
from pitjournal.domain.treatment import Treatment
from pitjournal.journal.queries.whole import whole_cooks
from pitjournal.units import UnitSystem

MOST_OTHERS = 400
"""So many of the newest cooks are looked through for the same comparison."""

if TYPE_CHECKING:
    from pitjournal.analysis.derived import Values
    from pitjournal.analysis.findings.comparison import PieceValues
    from pitjournal.analysis.findings.findings import Findings
    from pitjournal.analysis.findings.slow_findings import SlowFindings
    from pitjournal.analysis.safety.below import Below
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.journal.journal import Journal
    from pitjournal.journal.queries.headlines import Showed


class FindingsQueries:
    """What the cooks of a journal showed."""

    def __init__(self, journal: "Journal") -> None:
        self._journal = journal

    def of(
        self,
        cook_id: str,
        system: UnitSystem = UnitSystem.METRIC,
        *,
        every_cut: bool | None = None,
    ) -> "Findings":
        """Return what a cook showed; the sentences are in these units.

        The same comparison made with other cuts is named beside it, and joined with `every_cut`;
        None as was chosen for this cook.

        Raises
        ------
        JournalError
            If the cook is gone.
        """
        return findings(self._journal, cook_id, system, every_cut=every_cut)

    def slow(self, cook_id: str) -> "SlowFindings":
        """Return what takes longer to work out of a cook: leeway modelled, the spread split.

        Raises
        ------
        JournalError
            If the cook is gone.
        """
        return slow_findings(self._journal, cook_id)

    def below(self, whole: "WholeCook") -> "tuple[Below, ...]":
        """Return the pieces of a cook that were measured colder than the rule for them asks.

        Parameters
        ----------
        whole
            The cook, with its records as a page has them.
        """
        from pitjournal.analysis.safety.below import below_of

        return below_of(possible(whole), self._journal.files.samples)

    def showed(self, cook_ids: list[str], system: UnitSystem) -> "dict[str, Showed]":
        """Return what stands of each cook in the list: words, and a picture of it alone."""
        from pitjournal.journal.queries.headlines import showed

        return showed(self._journal, cook_ids, system)

    def headlines(self, cook_ids: list[str], system: UnitSystem) -> dict[str, str]:
        """Return a few words for each cook: what it showed."""
        from pitjournal.journal.queries.headlines import headlines

        return headlines(self._journal, cook_ids, system)


def findings(
    journal: "Journal", cook_id: str, system: UnitSystem, *, every_cut: bool | None = None
) -> "Findings":
    """Work out what a cook showed, from its records as they are now.

    `every_cut` joins the same comparison made with other cuts too; None as was chosen for the cook.

    Raises
    ------
    JournalError
        If the cook is gone.
    """
    from pitjournal.analysis.derived import values_of
    from pitjournal.analysis.findings.findings import findings_of
    from pitjournal.analysis.findings.like import EVERY_CUT, other_controls
    from pitjournal.analysis.findings.past_slope import PastPiece

    whole = possible(journal.whole(cook_id))
    values = values_of(whole, journal.files.samples)
    known = whole, values, journal.catalogue(), journal.files.samples, system
    steps = steps_of(journal, whole)
    if whole.control is None:
        return findings_of(*known, steps=steps, targets=journal.targets())
    every = piece_values(journal, comparisons(journal, cook_id))
    arms = whole_cooks(journal.database, list(every), (Arm, Treatment))
    others = _same(journal, whole, arms, every, (Piece,))
    past = [
        PastPiece(cook, found)
        for cook, pieces in every.items()
        if cook != cook_id
        for found in pieces.values()
    ]
    return findings_of(
        *known,
        others,
        past,
        steps,
        journal.targets(),
        lenders=lenders(journal, whole, every, others),
        apart=other_controls(whole, arms.values()),
        every_cut=bool(journal.setting(EVERY_CUT + cook_id)) if every_cut is None else every_cut,
    )


def steps_of(journal: "Journal", whole: "WholeCook") -> list[RowStep]:
    """Return what became of all that a reveal should have settled; nothing before one."""
    if not whole.tastings:
        return []
    parts: tuple[tuple[Record, ...], ...] = (
        whole.arms,
        whole.pieces,
        whole.scores,
        whole.tasting_notes,
    )
    return journal.database.steps_after_reveal(
        whole.cook.id,
        (tasting.id for tasting in whole.tastings),
        (record.id for records in parts for record in records),
    )


def slow_findings(journal: "Journal", cook_id: str) -> "SlowFindings":
    """Work out what takes longer: leeway modelled, the spread split, answers on their own scale.

    Raises
    ------
    JournalError
        If the cook is gone.
    """
    from pitjournal.analysis.findings.slow_findings import slow_findings_of

    whole = possible(journal.whole(cook_id))
    cooks = [cook_id] if whole.control is None else comparisons(journal, cook_id)
    every = piece_values(journal, cooks)
    arms = whole_cooks(journal.database, cooks, (Arm, Treatment)) if whole.control else {}
    others = _same(journal, whole, arms, every, _DEEP)
    return slow_findings_of(whole, every[cook_id], others)


_DEEP = (Piece, Event, DonenessCheck, Tasting, Sample, Score)
"""What is read of the other cooks for what takes longer."""


def comparisons(journal: "Journal", cook_id: str | None = None) -> list[str]:
    """Return the newest cooks that compared anything, oldest first, a certain one among them."""
    lines = journal.cooks.page(most=MOST_OTHERS)
    ids = [line.id for line in reversed(lines) if line.has_control]
    return ids if cook_id is None or cook_id in ids else [cook_id, *ids]


def piece_values(journal: "Journal", cook_ids: list[str]) -> "dict[str, dict[str, Values]]":
    """Return what is known of the pieces of these cooks, by cook and piece."""
    values: dict[str, dict[str, Values]] = {cook_id: {} for cook_id in cook_ids}
    for owner, cook, level, found in journal.values(cook_ids):
        if level == "piece":
            values[cook][owner] = dict(found)
    return values


def _same(
    journal: "Journal",
    whole: "WholeCook",
    arms: "dict[str, WholeCook]",
    values: "dict[str, dict[str, Values]]",
    kinds: tuple[type[Record], ...],
) -> "list[tuple[WholeCook, PieceValues]]":
    """Return the cooks of the same comparison with these records and their pieces' values."""
    from pitjournal.analysis.findings.like import same_comparison

    alike = [cook_id for cook_id, cook in arms.items() if same_comparison(whole, cook)]
    found = whole_cooks(journal.database, alike, (Arm, Treatment, *kinds))
    ordered = sorted(found.values(), key=lambda cook: cook.cook.starts_at)
    return [(cook, values.get(cook.cook.id, {})) for cook in ordered]


def lenders(
    journal: "Journal",
    whole: "WholeCook",
    values: "dict[str, dict[str, Values]]",
    others: "list[tuple[WholeCook, PieceValues]]",
) -> "list[tuple[WholeCook, PieceValues]]":
    """Return the cooks that may lend their spread in the outcome, oldest first.

    The newest ones before this cook, and before the first of its comparison.
    """
    from pitjournal.analysis.findings.borrowed import MOST_PAST, may_lend
    from pitjournal.analysis.findings.like import cuts_of

    outcome, cuts = whole.cook.outcome, cuts_of(whole)
    if outcome is None:
        return []
    order = list(values)
    able = [cook for cook in order if may_lend(values[cook].values(), outcome, cuts)]
    wanted: set[str] = set()
    for judged in {whole.cook.id, *(cook.cook.id for cook, _ in others[:1])}:
        if judged in values:
            before = set(order[: order.index(judged)])
            wanted |= set([cook for cook in able if cook in before][-MOST_PAST:])
    found = whole_cooks(journal.database, list(wanted), (Arm, Piece))
    ordered = sorted(found.values(), key=lambda cook: cook.cook.starts_at)
    return [(cook, values[cook.cook.id]) for cook in ordered]
