"""The look is started once it has its letters, whatever was styled before."""

import subprocess
import sys

WEAR_THEN_START = """
from PySide6.QtWidgets import QApplication
from pitjournal.ui.look.theme import FAMILY, look
application = QApplication([])
look().choose("night")
assert application.font().family() != FAMILY
look().start(application, "night")
assert application.font().family() == FAMILY, application.font().family()
"""


def test_that_letters_are_worn_also_where_colours_were_worn_before_them() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", WEAR_THEN_START], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
