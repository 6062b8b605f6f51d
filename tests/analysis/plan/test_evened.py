"""Arms drawn so that the trimmed weights are even, and judged as they were drawn."""

from dataclasses import replace

import pytest

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.as_json import as_json
from pitjournal.analysis.findings.explain import explanations
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.slow_findings import SlowFindings
from pitjournal.analysis.plan.evened import EVENED, even_words, evened
from pitjournal.domain.piece import Stage
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units import UnitSystem
from tests.analysis.makers import CATALOGUE, compared, no_readings, weighed

MASSES = (1500, 1480, 1510, 1490, 1495, 1505, 1300, 1320, 1310, 1290, 1305, 1315)
"""Six packs whose second rack is the lighter one, g: as it came, the arms are far apart."""


def planned() -> WholeCook:
    """Return a cook of two arms in six packs, all trimmed and weighed, not tasted."""
    whole = compared(("Left alone", "Injected"), ([6.0] * 6, [7.0] * 6))
    weighings = tuple(
        one
        for piece, mass in zip(whole.pieces, MASSES, strict=True)
        for one in weighed(whole.cook, piece, trimmed=mass)
    )
    return replace(whole, weighings=weighings, tastings=(), samples=(), scores=())


def dealt(whole: WholeCook, seed: int) -> WholeCook:
    drawn = evened(whole, seed)
    return replace(whole, pieces=tuple(replace(p, **drawn[p.id]) for p in whole.pieces))


def apart(whole: WholeCook) -> float:
    means = []
    for arm in whole.arms:
        masses = [whole.mass(piece, Stage.TRIMMED) or 0.0 for piece in whole.pieces_of(arm)]
        means.append(sum(masses) / len(masses))
    return abs(means[0] - means[1])


@pytest.mark.parametrize("seed", range(12))
def test_that_the_trimmed_weights_come_out_more_even_in_whole_packs(seed: int) -> None:
    whole = planned()
    assert apart(whole) == pytest.approx(190, abs=5)
    after = dealt(whole, seed)
    # Half of the 64 ways are left to the lot; the sizes differ by 190 g, so that six packs split
    # three and three (20 ways, 0 g) or four and two (30 ways, 63 g).
    assert apart(after) < 75
    packs = {(piece.pack, piece.arm_id) for piece in after.pieces}
    assert len(packs) == 12
    labels = {piece.label: piece for piece in after.pieces}
    assert set(labels) == {piece.label for piece in whole.pieces}
    assert all(after.arm_of(p) == whole.arms["AB".index(label[0])] for label, p in labels.items())


def test_that_the_same_lot_draws_the_same_and_lots_differ() -> None:
    whole = planned()
    draws = [str(evened(whole, seed)) for seed in range(20)]
    assert draws == [str(evened(whole, seed)) for seed in range(20)]
    assert len(set(draws)) > 5


def test_that_what_is_begun_or_not_weighed_is_not_dealt_anew() -> None:
    whole = planned()
    assert evened(replace(whole, weighings=whole.weighings[1:]), 1) == {}
    treated = weighed(whole.cook, whole.pieces[0], treated=1600)
    assert evened(replace(whole, weighings=(*whole.weighings, *treated)), 1) == {}
    alone = replace(whole.pieces[0], pack="")
    assert evened(replace(whole, pieces=(alone, *whole.pieces[1:])), 1) == {}
    assert "draw again" in even_words(whole)


def test_that_how_shows_the_chance_by_the_lot_beside_t_and_holds_to_the_draw() -> None:
    whole = compared(
        ("Left alone", "Injected"),
        ((6.0, 6.5, 5.5, 6.2, 6.1, 5.9), (7.0, 7.1, 6.9, 6.6, 7.4, 7.3)),
    )
    after = dealt(planned(), 3)
    masses = {p.label: after.mass(p, Stage.TRIMMED) or 0.0 for p in after.pieces}
    weighings = tuple(
        one for p in whole.pieces for one in weighed(whole.cook, p, trimmed=masses[p.label])
    )
    whole = replace(whole, weighings=weighings)
    told = []
    for held in ("", EVENED):
        cook = replace(whole, cook=replace(whole.cook, evened=held))
        found = findings_of(
            cook, values_of(cook, no_readings), CATALOGUE, no_readings, UnitSystem.US
        )
        (lot,) = as_json(found)["by_lot"]
        told.append(lot)
        how = dict(explanations(found, SlowFindings(), UnitSystem.US))["Injected"]
        assert "by the lot itself" in how.method
        assert ("as even as it was drawn" in how.method) is bool(held)
        assert ("Morgan & Rubin" in how.source) is bool(held)
    # All six differences are of one sign: of 2⁶ ways only this and its mirror are as far off.
    assert (told[0]["ways"], told[0]["p"]) == (64, 2 / 64)
    assert told[1]["ways"] < 64
    assert told[1]["p"] == pytest.approx(2 / told[1]["ways"])
