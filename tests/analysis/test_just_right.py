"""Just about right in words, against the constructed penalty table and hand arithmetic."""

from collections.abc import Sequence

import pytest

from pitjournal.analysis.just_right import just_right
from pitjournal.domain.scheme import Criterion, Rules, Scale
from pitjournal.domain.tasting import Sample, Score, Session, Tasting, TastingState
from tests.science.reference import rows


def answered(
    sides: Sequence[float],
    liking: Sequence[float],
    state: TastingState = TastingState.REVEALED,
) -> Session:
    """Return one taster's answers on so many samples; 3 is just right."""
    criteria = (
        Criterion(name="liking"),
        Criterion(name="salt", scale=Scale.JUST_RIGHT, low=1, high=5),
    )
    tasting = Tasting(
        cook_id="c",
        scheme="just about right",
        criteria=("liking", "salt"),
        low=1,
        high=9,
        state=state,
        rules=Rules(criteria=criteria).as_map(),
    )
    scores: list[Score] = []
    samples: list[Sample] = []
    for place, side in enumerate(sides):
        sample = Sample(cook_id="c", tasting_id=tasting.id, piece_id="p", code=str(100 + place))
        samples.append(sample)
        given = {"salt": side, **({"liking": liking[place]} if place < len(liking) else {})}
        scores += [
            Score(
                cook_id="c",
                tasting_id=tasting.id,
                sample_id=sample.id,
                taster="Ada",
                criterion=name,
                value=value,
            )
            for name, value in given.items()
        ]
    return Session(tasting, tuple(samples), tuple(scores))


TABLE = rows("jar_penalty_constructed")
SIDE = {"too_little": 2.0, "just_right": 3.0, "too_much": 4.0}
KEY = next(key for key, value in TABLE[0].items() if value in SIDE)
LIKED = next(key for key in TABLE[0] if "lik" in key)


def test_that_shares_and_costs_are_those_of_the_table() -> None:
    """20, 50 and 30 %; 2.0 and 1.5 points: expected_results JR01 to JR09."""
    sides = [SIDE[row[KEY]] for row in TABLE]
    (found,) = just_right(answered(sides, [float(row[LIKED]) for row in TABLE]))
    assert found.shares == pytest.approx((0.2, 0.5, 0.3))
    assert found.words == (
        "Salt: right for 50% of 60 answers; too little for 20%, who gave 2.0 points less liking; "
        "too much for 30%, who gave 1.5 points less liking."
    )


def test_that_a_side_hardly_anyone_named_is_not_made_much_of() -> None:
    (found,) = just_right(answered([3.0] * 9 + [5.0], [7.0] * 9 + [1.0]))
    assert found.words == "Salt: right for 90% of 10 answers."


def test_that_without_liking_or_answers_only_shares_are_said() -> None:
    (found,) = just_right(answered([2.0, 3.0], []))
    assert found.words == "Salt: right for 50% of 2 answers."
    assert just_right(answered([], [])) == ()


def test_that_no_cost_is_said_to_be_none() -> None:
    (found,) = just_right(answered([3.0, 3.0, 4.0, 4.0], [7.0, 6.0, 6.0, 7.0]))
    assert "too much for 50%, at no cost in liking" in found.words


@pytest.mark.parametrize("state", [TastingState.OPEN, TastingState.LOCKED])
def test_that_nothing_is_said_before_the_reveal(state: TastingState) -> None:
    assert just_right(answered([3.0], [7.0], state)) == ()
