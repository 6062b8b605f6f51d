"""What is printed for a tasting, read back from the PDF as anyone could."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from pitjournal.domain.scheme import Criterion, Scale
from pitjournal.domain.tasting import Mishap, Session, TastingNote
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.schemes import shipped, shipped_schemes
from pitjournal.files.tasting_sheets import answers_to, plate_map, plate_map_html, sheets_html
from pitjournal.files.writing import write_bytes
from pitjournal.journal import open_journal
from pitjournal.journal.commands.draw_tasting import DrawTasting
from pitjournal.ui.printing.printed import pdf_of_html
from tests.builders import NOON, add_comparison

pytestmark = pytest.mark.usefixtures("qapp")
PANEL = ("Ada", "Bruno", "Clio", "Dov")
DAY = "2 May 2026"


def print_html(html: str, title: str, path: Path, paper: str = "a4") -> int:
    data, count = pdf_of_html(html, title, paper)
    write_bytes(path, data)
    return count


def drawn(folder: Path, scheme_id: str) -> tuple[WholeCook, Session]:
    journal = open_journal(folder / "journal", new=True)
    command = add_comparison("Does injecting change the bite?")
    journal.do(command)
    ways = tuple(arm.id for arm in journal.whole(command.cook.id).arms[:2])
    scheme = shipped(scheme_id)
    journal.do(DrawTasting(command.cook.id, PANEL, 5, scheme, ways=ways, warm_up=True))
    whole = journal.whole(command.cook.id)
    journal.close()
    return whole, whole.session(whole.tastings[0])


def text_of(path: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


@pytest.mark.parametrize("scheme_id", [scheme.id for scheme in shipped_schemes()])
def test_that_the_sheets_give_nothing_away(tmp_path: Path, scheme_id: str) -> None:
    whole, session = drawn(tmp_path, scheme_id)
    path = tmp_path / "sheets.pdf"
    print_html(sheets_html(session, DAY), "Tasting sheets", path)
    pages = text_of(path)
    assert len(pages) == len(PANEL)
    said = " ".join(pages) + str(PdfReader(path).metadata)
    secrets = {arm.name for arm in whole.arms}
    secrets |= {piece.label for piece in whole.pieces} | {piece.pack for piece in whole.pieces}
    secrets |= {piece.cut for piece in whole.pieces} | {whole.cook.title, "inject", "control"}
    secrets |= {str(kind) for kind in TreatmentKind if kind is not TreatmentKind.NONE}
    for secret in secrets:
        assert secret.casefold() not in said.casefold(), secret
    for name, page in zip(PANEL, pages, strict=True):
        codes = [sample.code for sample in session.served(name) if not sample.reference]
        places = [page.index(code) for code in codes]
        assert places == sorted(places)
        assert name in page
        assert all(other not in page for other in PANEL if other != name)


def test_that_a_page_can_be_printed_for_one_taster(tmp_path: Path) -> None:
    _, session = drawn(tmp_path, "home-panel-1")
    path = tmp_path / "sheet.pdf"
    assert print_html(sheets_html(session, DAY, ["Clio"]), "Tasting sheets", path, "letter") == 1
    assert "Clio" in text_of(path)[0]


def test_that_the_plate_map_names_every_code_and_says_whom_it_is_for(tmp_path: Path) -> None:
    whole, session = drawn(tmp_path, "home-panel-1")
    path = tmp_path / "map.pdf"
    print_html(plate_map_html(plate_map(whole, session), session, DAY), "Plate map", path)
    said = text_of(path)[0]
    assert "For the server only" in said
    labels = {piece.id: piece.label for piece in whole.pieces}
    for sample in session.samples:
        assert f"{sample.code} {labels[sample.piece_id]}" in said
    assert f"a portion of {labels[session.tasting.warm_up]}" in said


def test_that_the_map_has_the_reference_and_leaves_out_what_was_lost(tmp_path: Path) -> None:
    whole, session = drawn(tmp_path, "duo-trio-1")
    found = plate_map(whole, session)
    assert all(codes[0].startswith("R = ") for _, codes in found.orders)
    assert found.longest == 3
    assert len(found.plates) == 8
    notes = tuple(
        TastingNote(
            cook_id=whole.cook.id,
            tasting_id=session.tasting.id,
            at=NOON,
            mishap=mishap,
            taster=taster,
            sample_id=session.served(taster)[1].id,
        )
        for mishap, taster in ((Mishap.ABSENT, "Ada"), (Mishap.SPILLED, "Bruno"))
    )
    after = plate_map(whole, Session(session.tasting, session.samples, (), notes))
    assert [taster for taster, _ in after.orders] == ["Bruno", "Clio", "Dov"]
    assert len(after.orders[0][1]) == 2


def test_that_each_scale_has_its_own_place_on_paper() -> None:
    def on_paper(scale: Scale) -> str:
        return answers_to(Criterion(name="bark", scale=scale, low=1, high=5), 6)

    assert on_paper(Scale.JUST_RIGHT).split() == ["1", "2", "3", "4", "5"]
    assert on_paper(Scale.YES_NO).split() == ["yes", "no"]
    assert on_paper(Scale.LINE).startswith("1 ____")
    assert on_paper(Scale.WHOLE) == ""
