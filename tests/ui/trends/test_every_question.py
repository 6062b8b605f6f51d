"""A sample of all questions: none fails, none takes a second, and no words are clipped."""

import random
import shutil
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from pitjournal.analysis.trends.question import By, Question
from pitjournal.domain.catalogue import Catalogue
from tests.benchmarks.every_question import ask, every_question, open_page

ASKED = 60
"""So many by lot; all of them are asked by `python -m tests.benchmarks.every_question`."""


@pytest.mark.parametrize(("units", "size"), [("us", "1280x800"), ("metric", "1024x700")])
def test_that_questions_by_lot_are_answered_at_once_and_can_be_read(
    qtbot: QtBot, demonstration_folder: Path, tmp_path: Path, units: str, size: str
) -> None:
    del qtbot  # makes the application
    folder = tmp_path / "journal"
    shutil.copytree(demonstration_folder, folder)
    page = open_page(cast("QApplication", QApplication.instance()), folder, units, size)
    lot = random.Random(f"a lot of {units}")
    questions = lot.sample(list(every_question(page.desk.catalogue)), ASKED)
    found = ask(page, questions)
    page.window().close()
    page.window().deleteLater()
    assert len(found.times) == ASKED
    assert not found.wrong, found.tell()


def test_that_every_question_asks_each_measure_by_each_variable() -> None:
    catalogue = Catalogue()
    questions = list(every_question(catalogue))
    assert len(questions) == len(set(questions)) > 3000
    assert Question("yield_off") in questions
    assert Question("yield_off", (By("wrap"),)) in questions
