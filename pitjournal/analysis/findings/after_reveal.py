"""What was changed after the codes had been seen: the history says so, and so do the findings."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from pitjournal.analysis.tasting.totals import cards_short
from pitjournal.analysis.trade_words import in_letters, size_of
from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.cook import Arm, Cook
from pitjournal.domain.past import RowStep
from pitjournal.domain.piece import Piece
from pitjournal.domain.tasting import (
    Blindness,
    Mishap,
    Sample,
    Score,
    Tasting,
    TastingNote,
    TastingState,
)
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem


@dataclass(frozen=True)
class Late:
    """One thing that was changed after the reveal: what ("outcome", "score" …), and in words."""

    what: str
    words: str


def late_changes(
    whole: WholeCook,
    steps: Sequence[RowStep],
    catalogue: Catalogue,
    system: UnitSystem = UnitSystem.METRIC,
) -> tuple[Late, ...]:
    """Return what is another than it was when the codes were first seen.

    Parameters
    ----------
    whole
        The cook as it is.
    steps
        What became of its records, as the history has it, oldest first.
    catalogue
        Names the outcomes.
    system
        The units of the words.
    """
    first = _first_seen(steps)
    if first is None:
        return ()
    later = [step for step in steps if step.seq > first]
    found = [
        *_outcome(whole, later, catalogue),
        *_margin(whole, later, catalogue, system),
        *_plan(whole, later),
        *_arms(whole, later),
        *_pieces(whole, later),
        *_left_out(whole, steps),
        *_scores(whole, later),
        *_opened([step for step in steps if step.seq >= first]),
    ]
    return tuple(found)


def late_sentence(found: Sequence[Late]) -> str:
    """Return what was changed after the reveal in one sentence, or nothing."""
    if not found:
        return ""
    return f"After the codes had been seen {'; '.join(late.words for late in found)}."


def _first_seen(steps: Sequence[RowStep]) -> int | None:
    """Return the step in which codes of the cook were first seen; None where they were not."""
    seen = (
        step.seq
        for step in steps
        for record in (step.before, step.after)
        if isinstance(record, Tasting) and record.revealed
    )
    return next(seen, None)


def _before(later: Sequence[RowStep], row_id: str) -> RowStep | None:
    """Return the first standing step of a record: what it was before is what it was when seen."""
    return next((step for step in later if step.row_id == row_id and step.stands), None)


def _outcome(whole: WholeCook, later: Sequence[RowStep], catalogue: Catalogue) -> list[Late]:
    was = _cook_before(whole, later)
    if was is None or was.outcome == whole.cook.outcome:
        return []

    def named(key: str | None) -> str:
        variable = catalogue.get(key or "")
        return variable.label if variable is not None else "none"

    if was.outcome is None:
        return [Late("outcome", f"{named(whole.cook.outcome)} was declared as the outcome")]
    changed = f"from {named(was.outcome)} to {named(whole.cook.outcome)}"
    return [Late("outcome", f"the declared outcome was changed {changed}")]


def as_settled(whole: WholeCook, steps: Sequence[RowStep]) -> WholeCook:
    """Return the cook with the difference worth knowing that stood when codes were first seen.

    What matters has to be said before it is seen how a cook came out: a margin drawn around the
    result fits it always. So one that was set or changed later answers nothing.
    """
    first = _first_seen(steps)
    if first is None:
        return whole
    was = _cook_before(whole, [step for step in steps if step.seq > first])
    if was is None or was.worth_knowing == whole.cook.worth_knowing:
        return whole
    return replace(whole, cook=replace(whole.cook, worth_knowing=was.worth_knowing))


def _cook_before(whole: WholeCook, later: Sequence[RowStep]) -> Cook | None:
    step = _before(later, whole.cook.id)
    return step.before if step is not None and isinstance(step.before, Cook) else None


def _margin(
    whole: WholeCook, later: Sequence[RowStep], catalogue: Catalogue, system: UnitSystem
) -> list[Late]:
    was, now = _cook_before(whole, later), whole.cook.worth_knowing
    variable = catalogue.get(whole.cook.outcome or "")
    if was is None or was.worth_knowing == now or variable is None:
        return []
    here, there = (
        None if one is None else size_of(one, variable, system) for one in (now, was.worth_knowing)
    )
    if there is None:
        said = f"a difference worth knowing was set, {here}: asked afterwards, it answers nothing"
    elif here is None:
        said = f"the difference worth knowing, {there}, was taken away: it is still held to"
    else:
        said = (
            f"the difference worth knowing was changed from {there} to {here}: held to is the first"
        )
    return [Late("worth_knowing", said)]


def _plan(whole: WholeCook, later: Sequence[RowStep]) -> list[Late]:
    """Return whether it was changed when pieces come off, or what was to be kept alike."""
    was = _cook_before(whole, later)
    if was is None:
        return []
    asked = (
        ("stop_rule", "the stop rule", was.stop_rule, whole.cook.stop_rule),
        ("held", "what was to be kept alike", was.held, whole.cook.held),
    )
    return [
        Late(key, f"{name} was {'changed' if old.strip() else 'written down'}")
        for key, name, old, new in asked
        if old.strip() != new.strip()
    ]


def _arms(whole: WholeCook, later: Sequence[RowStep]) -> list[Late]:
    for arm in whole.arms:
        step = _before(later, arm.id)
        was = step.before if step is not None else None
        if isinstance(was, Arm) and arm.control and not was.control:
            return [Late("control", f"{arm.name} was made the control")]
    return []


def _pieces(whole: WholeCook, later: Sequence[RowStep]) -> list[Late]:
    names = {arm.id: arm.name for arm in whole.arms}
    found = []
    for piece in whole.pieces:
        step = _before(later, piece.id)
        was = step.before if step is not None else None
        if isinstance(was, Piece) and was.arm_id != piece.arm_id:
            there, here = (names.get(arm or "", "no arm") for arm in (was.arm_id, piece.arm_id))
            found.append(Late("piece", f"{piece.label} was moved from {there} to {here}"))
    return found


def _left_out(whole: WholeCook, steps: Sequence[RowStep]) -> list[Late]:
    """Return the pieces that were drawn for a tasting of this cook and are gone."""
    here = {tasting.id for tasting in whole.tastings}
    drawn = {
        step.after.piece_id
        for step in steps
        if isinstance(step.after, Sample) and step.after.tasting_id in here
    }
    gone = len(drawn - {piece.id for piece in whole.pieces})
    if not gone:
        return []
    what = (
        "a piece that had been tasted was"
        if gone == 1
        else f"{in_letters(gone)} tasted pieces were"
    )
    return [Late("piece", f"{what} taken out")]


def _scores(whole: WholeCook, later: Sequence[RowStep]) -> list[Late]:
    """Return how many scores are others: corrected, swapped or lost with a note, or typed anew."""
    noted = [
        step.after
        for step in later
        if step.stands and step.before is None and isinstance(step.after, TastingNote)
    ]
    here = {note.id for note in whole.tasting_notes}
    notes = [note for note in noted if note.id in here]
    done = (
        (Mishap.CORRECTED, "score was corrected", "scores were corrected"),
        (Mishap.SWAPPED, "pair of samples was swapped", "pairs of samples were swapped"),
        (Mishap.SPILLED, "sample was noted as lost", "samples were noted as lost"),
    )
    found = []
    for mishap, one, many in done:
        count = sum(note.mishap is mishap for note in notes)
        if count:
            found.append(Late("score", f"{in_letters(count)} {one if count == 1 else many}"))
    told = {(note.sample_id, note.taster) for note in notes}
    told |= {(note.other_id, note.taster) for note in notes}
    typed = 0
    for score in whole.scores:
        step = _before(later, score.id)
        if step is None or (score.sample_id, score.taster) in told:
            continue
        was = step.before.value if isinstance(step.before, Score) else None
        typed += was != score.value
    if typed:
        what = "score was" if typed == 1 else "scores were"
        found.append(Late("score", f"{in_letters(typed)} {what} typed in anew"))
    return found


def _opened(steps: Sequence[RowStep]) -> list[Late]:
    """Return whether a reveal or a lock was undone, or the tasting drawn anew."""
    states = set()
    for step in steps:
        if not step.stands and isinstance(step.before, Tasting):
            states.add(step.before.state)
    words = {
        TastingState.REVEALED: "the reveal was undone",
        TastingState.LOCKED: "the lock of the scores was undone",
    }
    return [Late(str(state), said) for state, said in words.items() if state in states]


def judged(whole: WholeCook, outcome: str) -> tuple[Tasting, ...]:
    """Return the revealed tastings that scored an outcome."""
    return tuple(
        tasting
        for tasting in whole.tastings
        if tasting.revealed and outcome in {f"score.{name}" for name in tasting.variables}
    )


def eyes_open_sentence(whole: WholeCook, outcome: str) -> str:
    """Return that the outcome was scored with eyes open, or nothing."""
    if not any(tasting.seen is Blindness.OPEN for tasting in judged(whole, outcome)):
        return ""
    return (
        "Tasted with eyes open: everyone knew which was which, so what was expected is in the "
        "scores."
    )


def no_total_sentence(whole: WholeCook, outcome: str) -> str:
    """Return why the outcome, if it is a contest's total, is not known; or nothing."""
    short = (
        cards_short(whole.session(tasting))
        for tasting in whole.tastings
        if tasting.revealed and outcome == f"score.{tasting.total_variable}"
    )
    return next((words for words in short if words), "")
