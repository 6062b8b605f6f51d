"""A few cooks side by side: what differs between them, and what is the same."""

import pytest

from pitjournal.analysis.trends.side_by_side import Beside, beside
from pitjournal.domain.catalogue import Catalogue
from pitjournal.journal.queries.values import Row
from tests.analysis.trends.frames import frame_of

CATALOGUE = Catalogue()


@pytest.mark.parametrize(
    ("values", "differs"),
    [
        ((1.0, 1.0, 2.0), True),  # one of three is enough
        ((1.0, 2.0, 1.0), True),
        ((1.0, None, 1.0), False),
        ((None, 1.0), False),
        (("drum", "offset"), True),
    ],
)
def test_that_what_is_known_of_two_cooks_and_not_the_same_differs(
    values: tuple[float | str | None, ...], differs: bool
) -> None:
    assert Beside(CATALOGUE["wind"], values).differs is differs


def test_that_a_number_of_pieces_is_their_mean_and_what_nobody_knows_is_left_out() -> None:
    rows: list[Row] = [
        ("a", "a", "cook", {"wind": 2.0}),
        ("a1", "a", "piece", {"thickness": 0.04}),
        ("a2", "a", "piece", {"thickness": 0.06}),
        ("a3", "a", "piece", {}),
        ("b", "b", "cook", {"wind": 3.0}),
    ]
    found = {one.variable.key: one.values for one in beside(frame_of(rows), CATALOGUE, ["b", "a"])}
    assert found["wind"] == (3.0, 2.0)
    unknown, mean = found["thickness"]
    assert unknown is None
    assert mean == pytest.approx(0.05)  # (4 + 6) ÷ 2 cm
    assert "humidity" not in found
