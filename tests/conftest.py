"""What holds for every test."""

import os
from importlib.util import find_spec
from pathlib import Path

import pytest
from hypothesis import settings

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program says to itself
if (_worker := os.environ.get("PYTEST_XDIST_WORKER")) and "PITJOURNAL_SETTINGS" in os.environ:
    # Tests that run beside one another do not read each other's preferences.
    os.environ["PITJOURNAL_SETTINGS"] += f".{_worker}.json"
# A busy machine is no fault. What CI draws is the same each time, so that a change is judged by
# what it changes; everyone else draws anew, and what is found becomes an example in a test.
settings.register_profile("any machine", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("any machine")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Know the window's settings also where its plug-in is not installed."""
    if find_spec("pytestqt") is None:
        parser.addini("qt_api", "which Qt; unused here")
        parser.addini("qt_log_level_fail", "which Qt messages fail a test; unused here")


@pytest.fixture(scope="session")
def demonstration_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the demonstration journal, made once; to be copied, not written to."""
    from pitjournal.journal.demonstration import make_demonstration  # noqa: PLC0415 - for few

    folder = tmp_path_factory.mktemp("demonstration") / "journal"
    make_demonstration(folder).close()
    return folder
