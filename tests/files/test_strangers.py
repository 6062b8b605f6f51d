"""Files of strangers: what stands in the place of a file, and what asks for too much."""

import os
import random
import socket
import threading
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from pitjournal.errors import JournalError
from pitjournal.files import apart, strangers
from pitjournal.files.old_cooks import read_old_cooks
from pitjournal.files.probe_log import read_probe_log
from tests.torture.hostile import children, hostile
from tests.torture.hostile_files import LOGS, PHOTOS, a_log


def a_pipe(path: Path) -> None:
    os.mkfifo(path)


def a_folder(path: Path) -> None:
    path.mkdir()


def a_socket(path: Path) -> None:
    here = Path.cwd()
    os.chdir(path.parent)  # the name of a socket is short
    try:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(path.name)
    finally:
        os.chdir(here)


def a_device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def a_loop(path: Path) -> None:
    path.symlink_to(path)


def a_lost_link(path: Path) -> None:
    path.symlink_to(path.parent / "nowhere")


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (a_pipe, "is no file"),
        (a_folder, "is no file"),
        (a_socket, "is no file"),
        (a_device, "is no file"),
        (a_loop, "leads to itself"),
        (a_lost_link, "not there any more"),
        (lambda _: None, "not there any more"),
    ],
)
def test_that_what_is_no_file_is_said_at_once(
    tmp_path: Path, make: Callable[[Path], None], said: str
) -> None:
    path = tmp_path / "log.csv"
    make(path)
    with pytest.raises(JournalError, match=said) as refused:
        strangers.file_bytes(path)
    assert refused.value.hint


@pytest.mark.skipif(os.geteuid() == 0, reason="everything may be read by the administrator")
def test_that_a_forbidden_file_is_called_forbidden(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text("a", encoding="ascii")
    path.chmod(0)
    with pytest.raises(JournalError, match="may not be read by you"):
        strangers.file_bytes(path)


def test_that_two_gigabytes_of_one_line_are_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    with path.open("wb") as file:
        file.truncate(2_000_000_000)
    with pytest.raises(JournalError, match="2000 MB"):
        strangers.file_bytes(path)


@pytest.mark.parametrize("then", ["grows", "shrinks", "vanishes"])
def test_that_a_file_that_changes_while_it_is_read_is_read_as_far_as_it_goes(
    tmp_path: Path, then: str
) -> None:
    path, looks = tmp_path / "log.csv", []
    whole = b"1,2\n" * 10_000_000
    path.write_bytes(whole)

    def meanwhile() -> None:
        looks.append(1)
        if len(looks) == 1:
            if then == "grows":
                path.write_bytes(whole * 3)
            elif then == "shrinks":
                os.truncate(path, 36_000_000)
            else:
                path.unlink()

    found = strangers.file_bytes(path, stop=meanwhile)
    assert found == whole[:36_000_000] if then == "shrinks" else found == whole


@pytest.mark.parametrize(
    "name", ["corner.xlsx", "corner.ods", "laughs.xlsx", "laughs.ods", "deep.json", "one line.csv"]
)
def test_that_a_hostile_log_is_refused_in_one_line(name: str) -> None:
    with pytest.raises(JournalError) as refused:
        strangers.probe_log(LOGS[name](), name)
    assert name in refused.value.message
    assert refused.value.hint
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("name", ["huge.png", "square.png", "cut.jpg", "cut.heic", "huge.jpg"])
def test_that_a_hostile_picture_is_refused_in_one_line(name: str) -> None:
    with pytest.raises(JournalError, match=name) as refused:
        strangers.photo(PHOTOS[name](), name)
    assert refused.value.hint


def test_that_a_log_is_read_apart_as_it_is_read_here() -> None:
    data = a_log(20_000).encode()
    assert not strangers.is_short_text(data)
    here, there = read_probe_log(data, "a.csv"), strangers.probe_log(data, "a.csv")
    assert here.as_kept() == there.as_kept()
    for one, other in zip(here.channels, there.channels, strict=True):
        np.testing.assert_array_equal(one.times_s, other.times_s)
        np.testing.assert_array_equal(one.values_c, other.values_c)
    assert here.first_rows == there.first_rows
    assert here.read_as == there.read_as


def test_that_a_table_of_past_cooks_is_read_apart_as_it_is_read_here() -> None:
    rows = [f"{day}.05.2024,Brisket,5.{day} kg,107 °C,{9 + day % 4} h,good" for day in range(1, 29)]
    data = "\n".join(["Datum,Fleisch,Gewicht,Grill,Dauer,Notiz", *rows]).encode()
    here, there = read_old_cooks(data, "old.csv"), strangers.old_cooks(data, "old.csv")
    assert here.as_json() == there.as_json()
    assert here.cooks == there.cooks


@pytest.mark.parametrize("name", ["corner.xlsx", "corner.ods", "laughs.xlsx", "lying.xlsx"])
def test_that_a_hostile_table_of_past_cooks_is_refused_in_one_line(name: str) -> None:
    with pytest.raises(JournalError, match=name) as refused:
        strangers.old_cooks(LOGS[name](), name)
    assert refused.value.hint


@pytest.mark.parametrize(
    "data",
    [b"PK\x03\x04", b" {}", b"\n[1]", b"1" * 300_000, b"1 " * 400 + b"\n"],
    ids=["workbook", "object", "list", "long", "wide"],
)
def test_that_only_short_plain_text_is_read_here(data: bytes) -> None:
    assert not strangers.is_short_text(data)
    assert strangers.is_short_text(a_log().encode())


def test_that_two_may_read_at_once() -> None:
    data, found = a_log(20_000).encode(), []
    jobs = [
        threading.Thread(target=lambda: found.append(strangers.probe_log(data, "a.csv").rows_read))
        for _ in range(3)
    ]
    for job in jobs:
        job.start()
    for job in jobs:
        job.join()
    assert found == [20_000] * 3
    apart.close()
    assert not children()


def test_that_damaged_files_neither_end_nor_fill_the_program() -> None:
    figures, wrong = hostile(20, seed=random.Random(17).randrange(1000), bombs=False)
    assert not wrong
    assert figures["read"]
