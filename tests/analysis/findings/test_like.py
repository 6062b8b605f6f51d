"""Which cooks made the same comparison with other cuts, and so are named beside a finding."""

from dataclasses import replace

from pitjournal.analysis.findings.like import other_cuts
from pitjournal.domain.cook import CookStatus
from pitjournal.domain.whole_cook import WholeCook
from tests.analysis.makers import compared

TWO = ("Left alone", "Injected")


def of(*cuts: str) -> WholeCook:
    """Return a cook of the same two arms, done, with these cuts turn about."""
    whole = compared(TWO, ((6.0, 7.0), (7.0, 8.0)))
    pieces = tuple(
        replace(piece, cut=cuts[place % len(cuts)]) for place, piece in enumerate(whole.pieces)
    )
    done = replace(whole.cook, status=CookStatus.DONE)
    return replace(whole, cook=done, pieces=pieces)


def test_that_a_cook_of_another_cut_is_named_and_one_that_has_this_cut_too_is_not() -> None:
    mine, other, both = of("back ribs"), of("pork butt"), of("back ribs", "pork butt")
    found = other_cuts(mine, [other, both, of("back ribs")])
    assert [cook.cook_id for cook in found] == [other.cook.id]
    assert found[0].cuts == ("pork butt",)
