"""The look of arms by name: that of most of their cooks."""

from pathlib import Path

from pitjournal.domain.cook import Arm
from pitjournal.store.cook_list import arm_looks
from pitjournal.store.database import Database
from pitjournal.store.transaction import Transaction
from tests.builders import a_cook


def add(database: Database, number: int, *names: str, control: str = "") -> None:
    cook = a_cook(number=number)
    arms = [
        Arm(cook_id=cook.id, position=place, name=name, control=name == control)
        for place, name in enumerate(names)
    ]

    def run(transaction: Transaction) -> None:
        transaction.add(cook, *arms)

    database.change("Add", run)


def test_that_arms_have_the_look_they_have_most_often(tmp_path: Path) -> None:
    database = Database(tmp_path, new=True)
    assert arm_looks(database) == {}
    for number in range(2):
        add(database, number, "Injected", "Left alone", "Needled", control="Left alone")
    add(database, 2, "Needled", "Injected", "Left alone")  # without a control they begin at 1
    assert arm_looks(database) == {"Left alone": 0, "Injected": 1, "Needled": 2}
    database.close()
