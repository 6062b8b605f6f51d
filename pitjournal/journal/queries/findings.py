"""What a cook showed, kept until the cook changes."""

from typing import TYPE_CHECKING

from pitjournal.units import UnitSystem

MOST_OTHERS = 400
"""So many of the newest cooks are looked through for the same comparison."""

if TYPE_CHECKING:
    from pitjournal.analysis.comparison import PieceValues
    from pitjournal.analysis.derived import Values
    from pitjournal.analysis.findings import Findings
    from pitjournal.domain.whole_cook import WholeCook
    from pitjournal.journal.journal import Journal


def findings(journal: "Journal", cook_id: str, system: UnitSystem) -> "Findings":
    """Work out what a cook showed, from its records as they are now.

    Raises
    ------
    JournalError
        If the cook is gone.
    """
    from pitjournal.analysis.derived import values_of  # noqa: PLC0415 - numpy, when first needed
    from pitjournal.analysis.findings import findings_of  # noqa: PLC0415

    whole = journal.whole(cook_id)
    values = values_of(whole, journal.samples)
    others = _comparisons(journal, cook_id) if whole.control is not None else []
    return findings_of(whole, values, journal.catalogue(), journal.samples, system, others)


def _comparisons(journal: "Journal", cook_id: str) -> "list[tuple[WholeCook, PieceValues]]":
    """Return the newest cooks that compared anything, with their pieces' values."""
    lines = journal.cook_lines(most=MOST_OTHERS)
    ids = [line.id for line in lines if line.has_control]
    if cook_id not in ids:
        ids.append(cook_id)
    values: dict[str, dict[str, Values]] = {}
    for owner, cook, level, found in journal.values(ids):
        if level == "piece":
            values.setdefault(cook, {})[owner] = dict(found)
    wholes = journal.wholes(ids)
    ordered = sorted(wholes.values(), key=lambda whole: whole.cook.starts_at)
    return [(whole, values.get(whole.cook.id, {})) for whole in ordered]


def headlines(journal: "Journal", cook_ids: list[str], system: UnitSystem) -> dict[str, str]:
    """Return the few words that stand for each cook in the list: what it showed."""
    from pitjournal.analysis.comparison import compare, number, summaries  # noqa: PLC0415
    from pitjournal.analysis.derived import mean_of  # noqa: PLC0415
    from pitjournal.analysis.wording import headline  # noqa: PLC0415
    from pitjournal.units import Dimension, show  # noqa: PLC0415

    catalogue = journal.catalogue()
    rows: dict[str, dict[str, dict[str, object]]] = {}
    for owner, cook_id, level, values in journal.values(cook_ids):
        if level == "piece":
            rows.setdefault(cook_id, {})[owner] = dict(values)
    found = {}
    for cook_id, whole in journal.wholes(cook_ids).items():
        pieces = rows.get(cook_id, {})
        outcome = catalogue.get(whole.cook.outcome or "")
        words = ""
        if outcome is not None and len(whole.arms) > 1:
            arms = summaries(whole, pieces, outcome.key)  # type: ignore[arg-type]
            words = headline(compare(arms, outcome.key, declared=True), outcome, system)
        if not words:
            known = [number(values.get("yield_off")) for values in pieces.values()]  # type: ignore[arg-type]
            mean = mean_of(known)
            words = "" if mean is None else f"yield {show(mean, Dimension.FRACTION, system)}"
        found[cook_id] = words
    return found
