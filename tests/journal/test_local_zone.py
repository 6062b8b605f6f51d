"""The zone of this computer's clock: by the environment, by a file, else by whoever knows."""

from pathlib import Path

import pytest

from pitjournal import local_zone as module
from pitjournal.local_zone import ask_also, local_zone


@pytest.fixture(autouse=True)
def nobody_else(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_also", [])
    monkeypatch.delenv("TZ", raising=False)


def test_that_the_environment_comes_first_and_then_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "timezone").write_text("Europe/Berlin\n", encoding="utf-8")
    link = tmp_path / "localtime"
    link.symlink_to("/usr/share/zoneinfo/America/Chicago")
    assert local_zone([str(tmp_path / "timezone")]) == "Europe/Berlin"
    assert local_zone([str(link), str(tmp_path / "timezone")]) == "America/Chicago"
    monkeypatch.setenv("TZ", ":Asia/Tokyo")
    assert local_zone([str(link)]) == "Asia/Tokyo"


def test_that_where_no_file_says_it_the_toolkit_is_asked_and_what_it_says_is_checked(
    tmp_path: Path,
) -> None:
    compiled = tmp_path / "localtime"
    compiled.write_bytes(b"TZif2\xff\xfe\x00")  # a copy of a table says no name
    assert local_zone([str(compiled)]) == "UTC"
    ask_also(lambda: "W. Europe Standard Time")  # no IANA name
    assert local_zone([str(compiled)]) == "UTC"
    ask_also(lambda: "Europe/Berlin")
    assert local_zone([str(compiled)]) == "Europe/Berlin"


def test_that_the_program_asks_its_toolkit(monkeypatch: pytest.MonkeyPatch) -> None:
    core = pytest.importorskip("PySide6.QtCore")
    from pitjournal.app import zone_by_toolkit  # noqa: PLC0415 - for this test alone

    zone = core.QByteArray(b"America/Denver")
    monkeypatch.setattr(core.QTimeZone, "systemTimeZoneId", lambda: zone)
    ask_also(zone_by_toolkit)
    assert local_zone([]) == "America/Denver"
