"""Figures in columns keep the size of their role when another text size is chosen."""

from collections.abc import Iterator

import pytest
from PySide6.QtWidgets import QLabel

from pitjournal.ui.look.theme import look
from tests.ui.bench.clock import Clock, bench_on
from tests.ui.conftest import Opener


@pytest.fixture
def usual_size() -> Iterator[None]:
    before = look().text
    yield
    look().choose_text(before)


@pytest.mark.usefixtures("usual_size")
def test_that_the_clock_is_no_smaller_than_words_after_the_text_size_was_changed(
    open_window: Opener,
) -> None:
    bench = bench_on(open_window(), Clock())
    clock = next(one for one in bench.findChildren(QLabel) if one.property("role") == "clock")
    strong = next(one for one in bench.findChildren(QLabel) if one.property("role") == "strong")
    for size in ("110", "100"):
        look().choose_text(size)
        assert clock.fontMetrics().height() > 1.5 * strong.fontMetrics().height()
