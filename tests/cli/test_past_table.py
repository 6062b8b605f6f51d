"""What the forecast takes of a table of past cooks, and how it says what it does not take."""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from pitjournal.cli import main
from pitjournal.cli.past_table import past_cooks
from pitjournal.domain.cuts import find_cut
from pitjournal.domain.cuts.meat import Cut
from pitjournal.errors import JournalError

DATA = Path(__file__).parent.parent / "analysis" / "forecast" / "data"
HEAD = "cut,cooker,weight_g,thickness_mm,set_point_degC,wrap,wrap_min,min_to_60,min_to_71,min_to_90,min_to_93"
ROW = "pork butt,ceramic,3895,114,115.6,boat,321,334,508,771,825"


@pytest.fixture
def butt() -> Cut:
    found = find_cut("pork butt")
    assert found is not None
    return found


def _written(folder: Path, text: str | bytes) -> Path:
    path = folder / "past.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


@pytest.mark.parametrize(
    "text",
    [
        "\n".join((HEAD, *[ROW] * 3)),
        "\r\n".join((HEAD.upper(), *[ROW] * 3)),
        "\n".join((HEAD, *[ROW] * 3)).replace(",", ";").replace("115.6", "115,6"),
        "\n".join((HEAD, *[ROW] * 3)).replace(",", "\t"),
        "\n".join((HEAD, *[ROW] * 3)).replace(",", ", "),
        "\n".join((HEAD, *[ROW] * 3)).encode("utf-16"),
        f"{HEAD}\n{HEAD}\n{ROW}\n\n,,,\n{ROW}\n{ROW}\0\0",
    ],
    ids=["plain", "capitals", "semicolons", "tabs", "blanks", "utf-16", "ragged"],
)
def test_that_a_table_is_read_however_its_program_wrote_it(
    text: str | bytes, butt: Cut, tmp_path: Path
) -> None:
    found = past_cooks(_written(tmp_path, text), butt, "Ceramic")
    assert len(found.cooks) == 3
    assert not found.left_out
    assert found.words == f"{butt.name}, Ceramic"
    first = found.cooks[0]
    assert (first.thickness, first.set_point, first.wrap_at) == (0.114, 115.6, 321.0)
    assert first.marks == ((60.0, 334.0), (71.0, 508.0), (90.0, 771.0), (93.0, 825.0))


@pytest.mark.parametrize(
    "text",
    [
        "",
        bytes(range(256)) * 20,
        HEAD.replace(",wrap_min", "") + "\n" + ROW,
        f'{HEAD}\n"{"x" * 200_000}",ceramic,1,1,1,boat,1,1,1,1,1\n',
        "time,pit,meat\n1,2,3\n",
    ],
    ids=["empty", "bytes", "a column less", "a cell without end", "a log"],
)
def test_that_what_is_no_table_is_refused_in_a_line(
    text: str | bytes, butt: Cut, tmp_path: Path
) -> None:
    before = csv.field_size_limit(1 << 24)  # as another reader of this run may have set it
    try:
        with pytest.raises(JournalError, match=r"past\.csv is no table of past cooks"):
            past_cooks(_written(tmp_path, text), butt, "ceramic")
    finally:
        csv.field_size_limit(before)


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (ROW.replace("114", "114 mm"), "no thickness that can be"),
        (ROW.replace("114", "nan"), "no thickness that can be"),
        (ROW.replace("115.6", "1156"), "no set point that can be"),
        (ROW.replace("3895", "8e8"), "no weight that can be"),
        (ROW.replace("771", "300"), "warm before it was cold"),
        (ROW.replace("334,508,771,825", "0,-5,inf,"), "no minutes to a temperature"),
    ],
)
def test_that_a_row_that_cannot_be_is_left_out_and_said(
    row: str, why: str, butt: Cut, tmp_path: Path
) -> None:
    found = past_cooks(_written(tmp_path, f"{HEAD}\n{ROW}\n{row}"), butt, "ceramic")
    assert len(found.cooks) == 1
    assert found.left_out == (f"left out of past.csv: line 3: {why}",)


def test_that_the_answer_has_the_promised_form_and_says_what_it_left_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = (DATA / "cook_1.csv").read_text("utf-8").splitlines()
    trace = tmp_path / "trace.csv"
    trace.write_text("\n".join(lines[:331]), "utf-8")
    past = _written(tmp_path, "\n".join((HEAD, *[ROW] * 4, ROW.replace("114", "?"))))
    words = ["forecast", str(trace), "--meat", "meat", "--pit", "pit", "--cut", "pork butt"]
    words += ["--thickness", "122", "--past", str(past), "--json"]
    assert main([*words, "--target", "93C", "--target", "20C", "--target", "108C"]) == 0
    said: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert set(said) == {"at", "on", "forecasts", "rests_on"}
    assert said["rests_on"][-1] == "left out of past.csv: line 6: no thickness that can be"
    ahead, reached, never = said["forecasts"]
    bands = ("low90", "low50", "median_min", "high50", "high90")
    assert {*ahead} == {*bands, "target_degC", "refused"}
    assert ahead["refused"] is None
    # Minutes from on, of which 330 have gone.
    assert 330.0 < ahead["low90"] < ahead["low50"] < ahead["median_min"] < ahead["high50"]
    assert reached["refused"] == "reached"
    assert reached["median_min"] < 330.0
    assert "no hotter" in never["refused"]
    assert all(never[one] is None for one in bands)


def test_that_a_bound_beyond_two_days_is_null(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    slow = ROW.replace("334,508,771,825", "900,1500,2790,2870")
    past = _written(tmp_path, "\n".join((HEAD, *[slow] * 4)))
    trace = tmp_path / "trace.csv"
    times = "\n".join(
        f"2026-05-02T{8 + m // 60:02}:{m % 60:02}:00,110,{5 + 0.06 * m:.1f}"
        for m in range(0, 400, 2)
    )
    trace.write_text(f"time,pit (C),meat (C)\n{times}\n", "utf-8")
    words = ["forecast", str(trace), "--meat", "meat", "--pit", "pit", "--cut", "pork butt"]
    assert main([*words, "--past", str(past), "--target", "93C", "--json"]) == 0
    (one,) = json.loads(capsys.readouterr().out)["forecasts"]
    assert one["high90"] is None
    assert one["low90"] < 2880.0
