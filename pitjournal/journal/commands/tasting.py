"""Commands of the tasting: draw codes, score, answer, lock, reveal."""

from dataclasses import dataclass, replace

from pitjournal.domain.scheme import ANSWER, Scale, Ties
from pitjournal.domain.tasting import (
    Mishap,
    Sample,
    Score,
    Tasting,
    TastingNote,
    TastingState,
)
from pitjournal.errors import JournalError
from pitjournal.store.transaction import Transaction
from pitjournal.units.figures import trimmed


@dataclass(frozen=True)
class GiveScore:
    """Set, change or (with no value) clear one taster's score of one sample."""

    tasting_id: str
    sample_id: str
    taster: str
    criterion: str
    value: float | None
    label: str = "Score"

    @property
    def merge_key(self) -> str:
        """Typing one score is one step."""
        return f"{self.sample_id}:{self.taster}:{self.criterion}"

    def run(self, transaction: Transaction) -> None:
        """Keep the score while the session is open."""
        session = open_session(transaction, self.tasting_id)
        entry = Entry(self.sample_id, self.taster, self.criterion, self.value)
        put_score(transaction, session, entry)


def open_session(transaction: Transaction, tasting_id: str) -> Tasting:
    """Return a session that may still be scored.

    Raises
    ------
    JournalError
        If it is locked.
    """
    session = transaction.get(Tasting, tasting_id)
    if session.state is not TastingState.OPEN:
        raise JournalError("The scores are locked.", "Undo the lock, or correct one with a note.")
    return session


@dataclass(frozen=True)
class Entry:
    """What one taster says of one sample on one criterion; None clears it."""

    sample_id: str
    taster: str
    criterion: str
    value: float | None


def served(transaction: Transaction, session: Tasting, taster: str, sample_id: str) -> Sample:
    """Return a sample that a taster is served.

    Raises
    ------
    JournalError
        If he is not.
    """
    sample = transaction.get(Sample, sample_id)
    if sample.tasting_id != session.id or sample_id not in session.orders.get(taster, ()):
        raise JournalError(f"{taster} is not served {sample.code}.", "Look at the sheet again.")
    return sample


def put_score(transaction: Transaction, session: Tasting, entry: Entry) -> float | None:
    """Write a score by the rules of its session and return the one it replaces.

    Raises
    ------
    JournalError
        If the taster does not meet the sample, or it is no score of the criterion.
    """
    sample_id, taster, name, value = entry.sample_id, entry.taster, entry.criterion, entry.value
    sample = served(transaction, session, taster, sample_id)
    criterion = session.asked.criterion(name)
    if criterion is None:
        raise JournalError(f"{name.capitalize()} is not scored in this tasting.")
    found = transaction.find(Score, sample_id=sample_id, taster=taster, criterion=name)
    before = found[0].value if found else None
    if value is None:
        for score in found:
            transaction.remove(Score, score.id)
        return before
    where = f"{sample.code}, {name}"
    if refusal := criterion.refusal(value, session.meets(taster)):
        raise JournalError(f"{where}: {refusal}.", "Type it again.")
    if criterion.scale is Scale.RANK and session.asked.ties is Ties.REFUSED:
        _refuse_a_tie(transaction, sample, entry)
    if found:
        transaction.put(found[0], replace(found[0], value=value))
    else:
        transaction.add(
            Score(
                cook_id=session.cook_id,
                tasting_id=session.id,
                sample_id=sample_id,
                taster=taster,
                criterion=name,
                value=value,
            )
        )
    return before


def _refuse_a_tie(transaction: Transaction, sample: Sample, entry: Entry) -> None:
    for score in transaction.find(
        Score,
        tasting_id=sample.tasting_id,
        taster=entry.taster,
        criterion=entry.criterion,
        value=entry.value,
    ):
        if score.sample_id != sample.id:
            other = transaction.get(Sample, score.sample_id)
            raise JournalError(
                f"{sample.code}: {other.code} has place {trimmed(score.value)} already.",
                "Each place is given once.",
            )


@dataclass(frozen=True)
class GiveAnswer:
    """Keep which sample a taster chose in a triangle, duo–trio or pair; None takes it back."""

    tasting_id: str
    taster: str
    sample_id: str | None
    label: str = "Answer"

    @property
    def merge_key(self) -> str:
        """Changing one's mind is one step."""
        return f"{self.tasting_id}:{self.taster}:{ANSWER}"

    def run(self, transaction: Transaction) -> None:
        """Keep the answer while the session is open."""
        put_answer(
            transaction, open_session(transaction, self.tasting_id), self.taster, self.sample_id
        )


def put_answer(
    transaction: Transaction, session: Tasting, taster: str, sample_id: str | None
) -> str | None:
    """Write a taster's answer and return the sample he chose before.

    Raises
    ------
    JournalError
        If the sample is none he may choose.
    """
    if session.asked.scored:
        raise JournalError("This tasting is scored, not answered.")
    lost = transaction.find(
        TastingNote, tasting_id=session.id, taster=taster, mishap=Mishap.SPILLED
    )
    if lost and sample_id is not None:
        raise JournalError(f"{taster} had a portion lost.", "The set is left out.")
    before = None
    for score in transaction.find(Score, tasting_id=session.id, taster=taster, criterion=ANSWER):
        before = score.sample_id
        if before != sample_id:
            transaction.remove(Score, score.id)
    if sample_id is None or before == sample_id:
        return before
    sample = transaction.get(Sample, sample_id)
    if sample.reference or sample_id not in session.orders.get(taster, ()):
        raise JournalError(f"{taster} can't choose {sample.code}.", "Look at the sheet again.")
    transaction.add(
        Score(
            cook_id=session.cook_id,
            tasting_id=session.id,
            sample_id=sample_id,
            taster=taster,
            criterion=ANSWER,
            value=1.0,
        )
    )
    return before


@dataclass(frozen=True)
class LockTasting:
    """Close a session to further scores."""

    tasting_id: str
    label: str = "Lock the scores"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Lock it, if there is a score to lock."""
        session = transaction.get(Tasting, self.tasting_id)
        if session.state is not TastingState.OPEN:
            raise JournalError("The scores are locked already.")
        if not transaction.find(Score, tasting_id=session.id):
            raise JournalError("There are no scores yet.", "Enter them, then lock.")
        transaction.put(session, replace(session, state=TastingState.LOCKED))


@dataclass(frozen=True)
class RevealTasting:
    """Show which code was which piece."""

    tasting_id: str
    label: str = "Reveal the codes"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Reveal it, once it is locked."""
        session = transaction.get(Tasting, self.tasting_id)
        if session.state is TastingState.OPEN:
            raise JournalError("Lock the scores before you reveal.", "Then nobody can say why.")
        transaction.put(session, replace(session, state=TastingState.REVEALED))
