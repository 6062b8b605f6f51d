"""The log of faults: of limited size, nothing private, and copied whole to who mends it."""

import logging
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text

from pitjournal.fault_words import fault_text, private
from pitjournal.journal import fault_log

SECRET = "Grandma's brine, 40 g salt"
HOME = "/home/anna/My cooks/Grandma"


@pytest.fixture
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setenv("PITJOURNAL_SETTINGS", str(tmp_path / "settings.json"))
    logger = logging.getLogger("pitjournal")
    before = list(logger.handlers)
    fault_log.start_log()
    yield fault_log.path_of_log()
    for handler in set(logger.handlers) - set(before):
        logger.removeHandler(handler)
        handler.close()


def by_key() -> object:
    known: dict[str, int] = {}
    return known[SECRET]


def by_number() -> object:
    return float(SECRET)


def by_place() -> object:
    return Path(HOME).read_bytes()


def by_own_words() -> object:
    class RubError(Exception):
        pass

    raise RubError(f"the rub {SECRET} is not known")


def by_database() -> object:
    engine = create_engine("sqlite://")
    with engine.connect() as connection:
        return connection.execute(text("SELECT * FROM rubs WHERE name = :n"), {"n": SECRET})


def by_chain() -> None:
    try:
        by_key()
    except KeyError as error:
        raise sqlite3.OperationalError(f"no such table: {HOME}") from error


@pytest.mark.parametrize(
    "fault", [by_key, by_number, by_place, by_own_words, by_database, by_chain]
)
def test_that_a_fault_is_logged_without_what_is_the_cooks(
    log: Path, fault: Callable[[], object]
) -> None:
    try:
        fault()
    except Exception as error:
        logging.getLogger("pitjournal.test").exception("a fault")
        kind = type(error).__name__
    written = log.read_text(encoding="utf-8")
    for word in ("Grandma", "brine", "salt", "anna", "My cooks"):
        assert word not in written
    assert kind in written
    assert "tests/journal/test_fault_log.py:" in written
    assert f"in {fault.__name__}" in written


def test_that_the_log_turns_over_and_stays_small(
    log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    del monkeypatch
    logger = logging.getLogger("pitjournal.test")
    for _ in range(9000):
        logger.error(
            "a fault of the program, told in a line of some hundred letters, again and again"
        )
    files = list(log.parent.glob("pitjournal.log*"))
    assert len(files) == 2
    assert all(file.stat().st_size <= fault_log.LARGEST for file in files)


def test_that_what_is_sent_names_the_program_the_fault_and_the_log(log: Path) -> None:
    logging.getLogger("pitjournal.test").error("one line")
    sent = fault_log.to_send("ZeroDivisionError")
    assert sent.startswith("Pitjournal ")
    assert "ZeroDivisionError" in sent
    assert "one line" in sent
    assert str(log.parent) not in sent


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("could not convert string to float: 'x'", "could not convert string to float: (…)"),
        ("[Errno 2] No such file or directory: '/a/b'", "[Errno 2] No such file or directory: (…)"),
        ("cannot open C:\\Users\\anna\\cooks", "cannot open (…)"),
        ("division by zero", "division by zero"),
    ],
)
def test_that_a_message_keeps_what_speaks_of_code(said: str, kept: str) -> None:
    assert private(said) == kept


def test_that_a_fault_knows_its_lines() -> None:
    try:
        by_chain()
    except sqlite3.OperationalError as error:
        lines = fault_text(error).splitlines()
    assert lines[-1].startswith("OperationalError")
    assert "which led to" in lines
