"""An arm has one look everywhere, and what is no arm has none of an arm."""

from pitjournal.analysis.trends.arm_looks import LOOKS, looks_of_groups
from pitjournal.domain.blocks import Value
from pitjournal.journal.queries.values import Row
from tests.analysis.trends.frames import frame_of


def cooked(number: int, *arms: tuple[str, str]) -> list[Row]:
    name = f"c{number}"
    rows: list[Row] = [(name, name, "cook", {})]
    for place, (arm, treatment) in enumerate(arms):
        own: dict[str, Value] = {"arm": arm, "treatment": treatment}
        rows.append((f"{name}-{place}", name, "piece", own))
    return rows


PLAIN, INJECTED = ("Left alone", "left alone"), ("Injected", "injected")
BRINED, NEEDLED = ("Brined", "dry-brined"), ("Needled", "needled")
LOOK = {"Left alone": 0, "Injected": 1, "Needled": 2, "Brined": 1}


def test_that_a_treatment_has_the_look_of_its_arms() -> None:
    rows = [row for n in range(3) for row in cooked(n, PLAIN, INJECTED, NEEDLED)]
    found = looks_of_groups(frame_of(rows), "treatment", LOOK)
    assert found == {"left alone": 0, "injected": 1, "needled": 2}
    by_name = looks_of_groups(frame_of(rows), "arm", LOOK)
    assert by_name == {"Left alone": 0, "Injected": 1, "Needled": 2}


def test_that_of_two_with_one_look_the_commoner_keeps_it_and_the_other_has_a_free_one() -> None:
    rows = [row for n in range(3) for row in cooked(n, PLAIN, INJECTED, NEEDLED)]
    rows += [row for n in range(3, 5) for row in cooked(n, PLAIN, *[BRINED] * 9)]
    found = looks_of_groups(frame_of(rows), "treatment", LOOK)
    assert found == {"left alone": 0, "injected": 1, "needled": 2, "dry-brined": 3}


def test_that_arms_nobody_knows_and_more_than_there_are_looks_have_none() -> None:
    names = [(f"Arm {n}", f"way {n}") for n in range(12)]
    found = looks_of_groups(frame_of(cooked(0, *names)), "treatment", {n: 1 for n, _ in names})
    assert len(found) == LOOKS - 1
    assert len(set(found.values())) == len(found)
    assert looks_of_groups(frame_of(cooked(0, PLAIN)), "treatment", {}) == {}
