"""The log of faults: of limited size, nothing private, and copied whole to who mends it."""

import io
import json
import logging
import re
import sqlite3
import zipfile
import zoneinfo
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import jinja2
import pint
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image
from sqlalchemy import create_engine, text

from pitjournal.errors import JournalError
from pitjournal.fault_words import _KNOWN, fault_text, private
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


def by_encoding() -> object:
    return f"{SECRET} \udcff".encode()


def by_bytes() -> object:
    return (SECRET.encode() + b"\xff").decode()


def by_json() -> object:
    return json.loads(SECRET)


def by_pattern() -> object:
    return re.compile(f"{SECRET} (")


def by_template() -> object:
    return jinja2.Template("{{ a.b.c }} {% " + SECRET).render()


def by_unit() -> object:
    return pint.UnitRegistry().parse_expression("40 grandmas_brine")


def by_picture() -> object:
    return Image.open(io.BytesIO(SECRET.encode()))


def by_archive() -> object:
    return zipfile.ZipFile(io.BytesIO()).read(SECRET)


def by_frame() -> object:
    return pl.DataFrame({SECRET: [1]}).select("anna")


def by_zone() -> object:
    return zoneinfo.ZoneInfo("anna/Grandma")


def by_call() -> object:
    return dict(**{SECRET: 1}, **{SECRET: 2})


def by_constraint() -> object:
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.execute('CREATE TABLE "Grandma brine" (anna TEXT UNIQUE)')
        connection.execute('INSERT INTO "Grandma brine" VALUES (1), (1)')
    return None


def by_lines() -> object:
    raise RuntimeError("first line\nGrandma\nbrine")


def by_words_that_fail() -> object:
    class AnnaError(Exception):
        def __str__(self) -> str:
            raise ValueError(SECRET)

    raise AnnaError  # its kind is the program's, and not the cook's


def by_group() -> object:
    raise ExceptionGroup(SECRET, [ValueError(SECRET)])


def by_our_own() -> object:
    raise JournalError(f"There is no journal in {HOME}.", f"Look in {HOME}.")


def by_chain() -> None:
    try:
        by_key()
    except KeyError as error:
        raise sqlite3.OperationalError(f"no such table: {HOME}") from error


DOORS = (
    *(by_key, by_number, by_place, by_own_words, by_database, by_chain, by_encoding, by_bytes),
    *(by_json, by_pattern, by_template, by_unit, by_picture, by_archive, by_frame),
    *(by_zone, by_call, by_constraint, by_lines, by_group, by_our_own),
)
WORDS = ("grandma", "brine", "salt", "anna", "my cooks")


@pytest.mark.parametrize("fault", DOORS)
def test_that_a_fault_is_logged_without_what_is_the_cooks(
    log: Path, fault: Callable[[], object]
) -> None:
    try:
        fault()
    except Exception as error:
        logging.getLogger("pitjournal.test").exception("a fault")
        kind = type(error).__name__
    written = log.read_text(encoding="utf-8")
    for word in WORDS:
        assert word not in written.casefold()
    assert kind in written
    assert "tests/journal/test_fault_log.py:" in written
    assert f"in {fault.__name__}" in written


def test_that_a_fault_whose_words_fail_is_told_by_its_kind(log: Path) -> None:
    try:
        by_words_that_fail()
    except Exception:
        logging.getLogger("pitjournal.test").exception("a fault")
    assert "AnnaError\n" in log.read_text(encoding="utf-8")
    assert "Grandma" not in log.read_text(encoding="utf-8")


def test_that_what_is_put_into_a_line_is_as_private(log: Path) -> None:
    logger = logging.getLogger("pitjournal.test")
    for told in (SECRET, Path(HOME), [SECRET], ValueError(SECRET), SECRET.encode()):
        logger.error("told: %s", told)
        logger.error("told: %(it)s", {"it": told})
    logger.error(ValueError(SECRET))
    logger.error("with a stack", stack_info=True)
    logger.error("%d of %.1f", 3, 4.0)
    written = log.read_text(encoding="utf-8")
    for word in (*WORDS, str(log.parent)):
        assert word not in written.casefold()
    assert written.count("told: ") == 10
    assert "3 of 4.0" in written


@given(st.lists(st.text("abcdefghijklmnopqrstuvwxyzäöüßéçñ0123456789", min_size=1), min_size=1))
@settings(max_examples=50)
def test_that_no_word_but_those_of_code_is_kept(words: list[str]) -> None:
    kept = set(private(" ".join(words)).replace("…", " ").split())
    assert kept <= _KNOWN


def test_that_a_folder_with_the_program_s_name_is_not_told(tmp_path: Path) -> None:
    home = tmp_path / "pitjournal" / "annas" / "lib" / "tests"
    home.mkdir(parents=True)
    path = home / "odd.py"
    path.write_text("1 / 0", encoding="utf-8")
    try:
        exec(compile(path.read_text("utf-8"), str(path), "exec"), {})
    except ZeroDivisionError as error:
        said = fault_text(error)
    assert "  odd.py:1 in <module>" in said
    assert "annas" not in said


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
        ("[Errno 2] No such file or directory: '/a/b'", "[Errno …] No such file or directory: (…)"),
        ("the rub Grandma's brine, 40 g salt, is not known", "the …, is not …"),
        ("invalid value for Anna’s ribs: 3 lb 4 oz", "invalid value for …"),
        ("Annas Rezept", ""),
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
