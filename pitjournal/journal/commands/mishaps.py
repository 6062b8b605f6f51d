"""What goes wrong at a tasting, each put right by one command that leaves a note."""

from dataclasses import dataclass, replace
from datetime import datetime

from pitjournal.domain.record import new_id
from pitjournal.domain.scheme import ANSWER
from pitjournal.domain.tasting import Mishap, Sample, Score, Tasting, TastingNote, TastingState
from pitjournal.errors import JournalError
from pitjournal.journal.commands.tasting import Entry, put_answer, put_score, served
from pitjournal.store.transaction import Transaction


def _session(transaction: Transaction, tasting_id: str, why: str) -> Tasting:
    """Return a session; once it is locked, nothing changes without a reason."""
    session = transaction.get(Tasting, tasting_id)
    if session.state is not TastingState.OPEN and not why.strip():
        raise JournalError("The scores are locked.", "Write down why this one changes.")
    return session


def _note(  # noqa: PLR0917 - what a note holds
    session: Tasting, at: datetime, mishap: Mishap, taster: str, said: str, why: str, *samples: str
) -> TastingNote:
    """Return the note of a mishap, with the one or two samples it is about."""
    first, other = (*samples, "", "")[:2]
    return TastingNote(
        cook_id=session.cook_id,
        tasting_id=session.id,
        at=at,
        mishap=mishap,
        taster=taster,
        sample_id=first,
        other_id=other,
        said=said,
        why=why,
    )


def _known(session: Tasting, taster: str) -> None:
    if taster not in session.tasters:
        raise JournalError(f"{taster} is not at this tasting.")


def _scores(transaction: Transaction, session: Tasting, taster: str) -> list[Score]:
    return transaction.find(Score, tasting_id=session.id, taster=taster)


@dataclass(frozen=True)
class MarkAbsent:
    """Note that a taster did not come: his sheet is not waited for."""

    tasting_id: str
    taster: str
    at: datetime
    why: str = ""
    merge_key: str = ""

    @property
    def label(self) -> str:
        """Who."""
        return f"{self.taster} is absent"

    def run(self, transaction: Transaction) -> None:
        """Note it, unless he has scored."""
        session = _session(transaction, self.tasting_id, self.why)
        _known(session, self.taster)
        if _scores(transaction, session, self.taster):
            raise JournalError(
                f"{self.taster} has scored already.", "Clear his scores if they are not his."
            )
        notes = transaction.find(
            TastingNote, tasting_id=session.id, taster=self.taster, mishap=Mishap.ABSENT
        )
        if notes:
            raise JournalError(f"{self.taster} is noted as absent already.")
        transaction.add(
            _note(
                session,
                self.at,
                Mishap.ABSENT,
                self.taster,
                f"{self.taster} was absent",
                self.why,
            )
        )


@dataclass(frozen=True)
class MarkLeft:
    """Note that a taster left before the end: what he gave stays, his blanks are not tasted."""

    tasting_id: str
    taster: str
    at: datetime
    why: str = ""
    merge_key: str = ""

    @property
    def label(self) -> str:
        """Who."""
        return f"{self.taster} left early"

    def run(self, transaction: Transaction) -> None:
        """Note it; who has given nothing is absent."""
        session = _session(transaction, self.tasting_id, self.why)
        _known(session, self.taster)
        given = _scores(transaction, session, self.taster)
        if not given:
            raise JournalError(f"{self.taster} has given nothing yet.", "Note that as absent.")
        notes = transaction.find(
            TastingNote, tasting_id=session.id, taster=self.taster, mishap=Mishap.LEFT
        )
        if notes:
            raise JournalError(f"{self.taster} is noted as having left already.")
        met = len({score.sample_id for score in given})
        said = (
            f"{self.taster} left early, with {met} of {session.meets(self.taster)} samples tasted"
        )
        transaction.add(_note(session, self.at, Mishap.LEFT, self.taster, said, self.why))


@dataclass(frozen=True)
class MarkSpilled:
    """Note that a taster's portion was lost: what he scored of it goes, or his answer."""

    tasting_id: str
    taster: str
    sample_id: str
    at: datetime
    why: str = ""
    label: str = "A sample was lost"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Note it."""
        session = _session(transaction, self.tasting_id, self.why)
        sample = _served(transaction, session, self.taster, self.sample_id)
        lost = transaction.find(
            TastingNote,
            tasting_id=session.id,
            taster=self.taster,
            sample_id=sample.id,
            mishap=Mishap.SPILLED,
        )
        if lost:
            raise JournalError(f"{sample.code} of {self.taster} is noted as lost already.")
        of_a_set = not session.asked.scored  # one portion short, nothing can be chosen from it
        given = _scores(transaction, session, self.taster)
        gone = [score for score in given if of_a_set or score.sample_id == sample.id]
        for score in gone:
            transaction.remove(Score, score.id)
        said = f"{sample.code} of {self.taster} was lost"
        if gone:
            what = "answer" if of_a_set else "score" if len(gone) == 1 else "scores"
            said += f", {len(gone)} {what} with it"
        transaction.add(
            _note(session, self.at, Mishap.SPILLED, self.taster, said, self.why, sample.id)
        )


def _served(transaction: Transaction, session: Tasting, taster: str, sample_id: str) -> Sample:
    _known(session, taster)
    return served(transaction, session, taster, sample_id)


@dataclass(frozen=True)
class SwapScores:
    """Exchange all that a taster said of two samples: he had them the wrong way round."""

    tasting_id: str
    taster: str
    first_id: str
    second_id: str
    at: datetime
    why: str = ""
    label: str = "Swap two samples"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Swap them."""
        session = _session(transaction, self.tasting_id, self.why)
        first = _served(transaction, session, self.taster, self.first_id)
        second = _served(transaction, session, self.taster, self.second_id)
        if first.id == second.id:
            raise JournalError("A sample can't be swapped with itself.", "Choose two.")
        if first.reference or second.reference:
            raise JournalError("The reference is not scored.", "Choose two that are.")
        held = [
            score
            for score in _scores(transaction, session, self.taster)
            if score.sample_id in {first.id, second.id}
        ]
        if not held:
            raise JournalError(
                f"{self.taster} has scored neither {first.code} nor {second.code}.",
                "Score them first.",
            )
        for score in held:
            transaction.remove(Score, score.id)
        other = {first.id: second.id, second.id: first.id}
        transaction.add(
            *(replace(score, id=new_id(), sample_id=other[score.sample_id]) for score in held),
            _note(
                session,
                self.at,
                Mishap.SWAPPED,
                self.taster,
                f"{first.code} and {second.code} of {self.taster} were swapped",
                self.why,
                first.id,
                second.id,
            ),
        )


@dataclass(frozen=True)
class CorrectScore:
    """Change one score after the lock; what it was, what it is and why are kept.

    In a triangle, duo–trio or pair the criterion is `ANSWER` and the sample the one that was
    meant; the value is left out.
    """

    tasting_id: str
    taster: str
    sample_id: str
    criterion: str
    value: float | None
    at: datetime
    why: str
    label: str = "Correct a score"
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Correct it."""
        session = transaction.get(Tasting, self.tasting_id)
        if session.state is TastingState.OPEN:
            raise JournalError("The scores are not locked.", "Change it on the sheet.")
        if not self.why.strip():
            raise JournalError("A correction needs a reason.", "Write down why it changes.")
        sample = _served(transaction, session, self.taster, self.sample_id)
        if self.criterion == ANSWER:
            said = self._answer(transaction, session, sample)
        else:
            said = self._score(transaction, session, sample)
        why = self.why.strip()
        transaction.add(
            _note(session, self.at, Mishap.CORRECTED, self.taster, said, why, sample.id)
        )

    def _answer(self, transaction: Transaction, session: Tasting, sample: Sample) -> str:
        before = put_answer(transaction, session, self.taster, sample.id)
        if before == sample.id:
            raise JournalError(f"{self.taster} chose {sample.code} already.")
        was = transaction.get(Sample, before).code if before else "nothing"
        return f"{self.taster} chose {sample.code}, not {was}"

    def _score(self, transaction: Transaction, session: Tasting, sample: Sample) -> str:
        criterion = session.asked.criterion(self.criterion)
        entry = Entry(sample.id, self.taster, self.criterion, self.value)
        before = put_score(transaction, session, entry)
        where = f"{sample.code}, {self.criterion}, of {self.taster}"
        if before == self.value:
            raise JournalError(f"{where} is that already.", "Nothing was changed.")
        assert criterion is not None
        now, was = criterion.shown(self.value) or "none", criterion.shown(before) or "none"
        return f"{where}: {now} instead of {was}"
