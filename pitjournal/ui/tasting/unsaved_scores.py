"""Scores and answers that were given and wait for the disk, laid over a session."""

from collections.abc import Iterable
from dataclasses import replace

from pitjournal.domain.scheme import ANSWER
from pitjournal.domain.tasting import Score, Session
from pitjournal.journal.commands import Command
from pitjournal.journal.commands.tasting import GiveAnswer, GiveScore


def with_unsaved(session: Session, waiting: Iterable[Command]) -> Session:
    """Return a session as it will be once what waits is saved: no sheet shows it blank."""
    mine = [
        one
        for one in waiting
        if isinstance(one, GiveScore | GiveAnswer) and one.tasting_id == session.tasting.id
    ]
    if not mine:
        return session
    scores = list(session.scores)
    for one in mine:
        criterion = ANSWER if isinstance(one, GiveAnswer) else one.criterion
        value = one.value if isinstance(one, GiveScore) else 1.0
        # Of a set one is chosen: another choice takes the place of the first.
        scores = [
            score
            for score in scores
            if (score.taster, score.criterion) != (one.taster, criterion)
            or (isinstance(one, GiveScore) and score.sample_id != one.sample_id)
        ]
        if one.sample_id is not None and value is not None:
            scores.append(
                Score(
                    cook_id=session.tasting.cook_id,
                    tasting_id=session.tasting.id,
                    sample_id=one.sample_id,
                    taster=one.taster,
                    criterion=criterion,
                    value=value,
                )
            )
    return replace(session, scores=tuple(scores))
