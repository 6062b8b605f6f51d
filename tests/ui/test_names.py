"""What a screen reader is told, and how large targets at the bench are, in every state.

Sources: W3C, Web Content Accessibility Guidelines 2.1, 2.5.3 Label in Name, 4.1.2 Name, Role,
Value, 2.5.5 Target Size (44 by 44 CSS px).
"""

import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import cast

import pytest
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QApplication

from pitjournal.journal.preferences import Preferences
from pitjournal.ui.look.parts import spoken
from pitjournal.ui.look.parts.fields import QuantityField
from pitjournal.ui.start import Shell
from pitjournal.units import Dimension, UnitSystem
from tests.ui.conftest import Opener
from tests.ui.every_state import Control, controls, walk

TARGET = 44
SIGN = "×"


@pytest.fixture(scope="module")
def seen(
    demonstration_folder: Path, tmp_path_factory: pytest.TempPathFactory, qapp: QApplication
) -> Iterator[dict[str, list[Control]]]:
    """Walk the demonstration once, in the smallest window."""
    del qapp
    folder = tmp_path_factory.mktemp("every-state") / "journal"
    shutil.copytree(demonstration_folder, folder)
    shell = Shell(cast("QApplication", QApplication.instance()), Preferences(theme="light"))
    shell.open(str(folder))
    window = shell.window
    assert window is not None
    window.resize(1024, 700)
    yield {state: controls(window, state) for state in walk(window)}
    window.close()
    window.deleteLater()


def every(seen: dict[str, list[Control]]) -> Iterator[Control]:
    for found in seen.values():
        yield from found


def test_that_every_name_holds_the_words_that_are_seen(seen: dict[str, list[Control]]) -> None:
    assert len(seen) > 40
    assert sum(len(found) for found in seen.values()) > 1000
    bare = [one for one in every(seen) if not one.name.strip()]
    assert not bare, "\n".join(map(str, bare))
    other = [
        one
        for one in every(seen)
        if one.text != SIGN and one.text.casefold() not in one.name.casefold()
    ]
    assert not other, "\n".join(sorted(set(map(str, other))))
    signs = [one for one in every(seen) if one.text == SIGN]
    assert signs
    assert all(one.name.startswith("Remove ") for one in signs)


def test_that_no_two_fields_or_crosses_of_a_page_have_the_same_name(
    seen: dict[str, list[Control]],
) -> None:
    twice = [
        f"{state}: {count} × {name}"
        for state, found in seen.items()
        for name, count in Counter(c.name for c in found if c.field or c.text == SIGN).items()
        if count > 1
    ]
    assert not twice, "\n".join(twice)


def test_that_each_choice_of_one_is_of_radio_buttons(seen: dict[str, list[Control]]) -> None:
    looks = [one for one in seen["settings"] if one.text in {"light", "at work", "°F, lb, in"}]
    assert len(looks) == 3
    assert {one.role for one in looks} == {QAccessible.Role.RadioButton}


def test_that_places_and_pages_are_one_of_several_and_a_panel_is_a_dialog(
    seen: dict[str, list[Control]], open_window: Opener
) -> None:
    places = [one for one in seen["plan"] if one.text in {"Cooks", "Shelf"}]
    assert [one.role for one in places] == [QAccessible.Role.RadioButton] * 2
    pages = ("Plan", "Bench", "Tasting", "Findings")
    with_tabs = [state for state, found in seen.items() if any(c.kind == "tab" for c in found)]
    assert {"plan", "bench", "tasting", "findings"} <= set(with_tabs)
    for state in with_tabs:
        tabs = [one for one in seen[state] if one.kind == "tab"]
        assert [one.name for one in tabs] == list(pages)
        assert {one.role for one in tabs} == {QAccessible.Role.PageTab}
    window = open_window()
    window.go("settings")
    panel = window.panel
    assert panel is not None
    told = QAccessible.queryAccessibleInterface(panel)
    assert told.role() == QAccessible.Role.Dialog
    assert told.text(QAccessible.Text.Name) == "Settings"
    assert not panel.isWindow()


def test_that_what_is_saved_refused_or_wrong_is_announced(
    open_window: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[tuple[str, bool]] = []
    window = open_window()

    def note(event: QAccessibleAnnouncementEvent) -> None:
        urgent = event.politeness() == QAccessible.AnnouncementPoliteness.Assertive
        told.append((event.message(), urgent))

    monkeypatch.setattr(spoken, "tell", note)
    window.desk.bridge.saved.emit("Lid, all six")
    window.desk.bridge.refused.emit("The disk is full.")
    assert told == [("Saved: Lid, all six", False), ("The disk is full.", True)]
    told.clear()
    window.rail.running.show_alarm("Wrap: 160 °F reached")
    window.rail.running.show_alarm("Wrap: 160 °F reached")  # once is enough
    assert told == [("Alarm: Wrap: 160 °F reached", True)]
    told.clear()
    field = QuantityField("Weight", Dimension.MASS, UnitSystem.US, lambda *_: "")
    field.line.setText("heavy")
    field.line.setModified(True)
    field.commit()
    assert len(told) == 1
    assert told[0][0].startswith("Weight: ")
    assert told[0][1]


def test_that_targets_at_the_bench_can_be_hit_in_gloves(seen: dict[str, list[Control]]) -> None:
    there = [one for one in every(seen) if one.gloves]
    assert {one.state for one in there} >= {"bench", "bench-log", "bench-fuel", "bench-feel"}
    small = [one for one in there if min(one.high, one.wide) < TARGET]
    assert not small, "\n".join(sorted({f"{one}, {one.wide} px wide" for one in small}))
